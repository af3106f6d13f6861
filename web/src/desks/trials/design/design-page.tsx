export function DesignPage(_props: { campaignId: string }) {
  return null;
}
