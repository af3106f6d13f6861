/** The desk where a brew is planned. */
export default function BrewDesk({ campaignId }: { campaignId: string }) {
  return <div data-campaign={campaignId} />;
}
