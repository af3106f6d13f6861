import type { DesignOptions, SolvedWithConcentrates, WaterOrder } from '@pourline/core';
import { useLayoutEffect, useState, useSyncExternalStore } from 'react';
import { openRoom, type Room } from './client.ts';
import { type Latest, type LatestStore, makeLatest } from './latest.ts';
import type { MadeWaters } from './worker.ts';

let room: Room | null = null;

/** The waters' own worker, opened on first use: a long brew in the other one never holds a recipe up. */
function theRoom(): Room {
  room ??= openRoom();
  return room;
}

function useLatest<I, O>(make: () => LatestStore<I, O>, input: I | null): Latest<I, O> {
  const [store] = useState(make);
  useLayoutEffect(() => store.ask(input), [store, input]);
  return useSyncExternalStore(store.subscribe, store.get);
}

/** How to make the waters of an order, kept up to date. Null (nothing to compute) keeps the last answer, marked stale. */
export const useWaters = (order: WaterOrder | null): Latest<WaterOrder, MadeWaters> =>
  useLatest(() => makeLatest((asked: WaterOrder) => theRoom().remote.waters(asked)), order);

export interface BottleQuestion {
  order: WaterOrder;
  design: DesignOptions;
}

/** Concentrates for an order and the waters made with them, kept up to date. */
export const useBottles = (question: BottleQuestion | null): Latest<BottleQuestion, SolvedWithConcentrates> =>
  useLatest(
    () => makeLatest(({ order, design }: BottleQuestion) => theRoom().remote.bottles(order, design)),
    question,
  );
