export function MixPage(_: { campaignId: string; chosen: string | undefined }) {
  return null;
}
