import type { BrewBundle } from '@pourline/core';
import { useEffect, useLayoutEffect, useState, useSyncExternalStore } from 'react';
import { theEngine } from './client.ts';
import { makePredictor, type Prediction, type PredictorOptions } from './predictor.ts';

/**
 * The prediction for a bundle, kept up to date while the caller is on screen. `moving` marks a gesture under way. A null bundle
 * (the plan cannot be computed as it stands) keeps the last prediction and marks it stale.
 */
export function usePrediction(
  bundle: BrewBundle | null,
  moving: boolean,
  options?: PredictorOptions,
): Prediction {
  const [predictor] = useState(() => makePredictor(theEngine(), options));
  // Before the frame is painted, not after: a later effect would put every draft off by a frame.
  useLayoutEffect(() => predictor.show(bundle, moving), [predictor, bundle, moving]);
  useEffect(() => () => predictor.pause(), [predictor]);
  return useSyncExternalStore(predictor.subscribe, predictor.get);
}
