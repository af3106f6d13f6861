import { memo } from 'react';
import { SelectInput, type SelectInputProps } from '../../../ui/index.ts';
import { useSteady } from './use-stable.ts';

/** A list to choose from is the dearest thing on a form to draw: it is drawn again only when it would look different. */
const Drawn = memo(SelectInput, (before, after) => looks(before) === looks(after));

const looks = ({ onChange: _, ...shown }: SelectInputProps): string => JSON.stringify(shown);

/** One of a list, for forms that are drawn with every key: it always acts on the newest state. */
export function SteadySelect({ onChange, ...props }: SelectInputProps) {
  return <Drawn {...props} onChange={useSteady(onChange)} />;
}
