import type { Mix } from '@pourline/core';

import { t } from '../../../words/index.ts';
import { SteadySelect } from './steady-select.tsx';

interface OrderChoiceProps {
  orderId: string;
  orders: readonly Mix[];
  choose: (id: string) => void;
}

/** Which order is on the desk. */
export function OrderSelect({ orderId, orders, choose }: OrderChoiceProps) {
  return (
    <SteadySelect
      label={t('kind.mix')}
      value={orderId}
      options={orders.map(({ id, name }) => ({ value: id, label: name }))}
      onChange={choose}
    />
  );
}

/** The same as a bar of its own. */
export function OrderChoice(props: OrderChoiceProps) {
  return (
    <div className="order-bar order-only">
      <OrderSelect {...props} />
    </div>
  );
}
