import { useState } from 'react';

/** How a part that is not always needed starts: open where there is room, folded on a phone. */
export function useFirstFold(): 'open' | 'closed' {
  const [fold] = useState<'open' | 'closed'>(() =>
    matchMedia('(max-width: 44rem)').matches ? 'closed' : 'open',
  );
  return fold;
}
