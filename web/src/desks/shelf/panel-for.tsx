import { CampaignPanel } from './campaign-panel.tsx';
import { CoffeePanel } from './coffee-panel.tsx';
import { GrinderPanel } from './grinder-panel.tsx';
import { SetupPanel } from './setup-panel.tsx';
import { VenuePanel } from './venue-panel.tsx';
import { WaterPanel } from './water-panel.tsx';

const PANELS = {
  coffee: CoffeePanel,
  water: WaterPanel,
  grinder: GrinderPanel,
  setup: SetupPanel,
  venue: VenuePanel,
  campaign: CampaignPanel,
} as const;

/** Kinds that the shelf holds. */
export type ShelfKind = keyof typeof PANELS;
export const SHELF_KINDS = Object.keys(PANELS) as ShelfKind[];

/** The editor of any document of the shelf. */
export function PanelFor({ kind, id }: { kind: ShelfKind; id: string }) {
  const Editor = PANELS[kind];
  return <Editor id={id} />;
}
