export { CampaignPanel } from './campaign-panel.tsx';
export { CoffeePanel } from './coffee-panel.tsx';
export { GrinderPanel } from './grinder-panel.tsx';
export { PanelFor, type ShelfKind } from './panel-for.tsx';
export { SetupPanel } from './setup-panel.tsx';
export { VenuePanel } from './venue-panel.tsx';
export { WaterPanel } from './water-panel.tsx';
