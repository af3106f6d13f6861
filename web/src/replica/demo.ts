import { checkArchive } from '@pourline/core';
import type { Revision } from './api.ts';
import { newId } from './ids.ts';
import type { Replica } from './replica.ts';

/**
 * On a static host there is no server to bring the demo, so the copy beside the page is put in, once: a demo that was
 * taken away stays away. A page built without one starts empty.
 */
export async function seedDemo(replica: Replica): Promise<void> {
  if (await replica.store.meta('seeded')) return;
  const archive = await fetchDemo();
  if (archive === 'unreachable') return;
  if (archive !== 'absent') {
    const at = new Date().toISOString();
    const revisions = archive.documents.map(
      (body): Revision => ({
        revision_id: newId(),
        document_id: body.id,
        campaign_id: body.campaign_id,
        kind: body.kind,
        base_revision_id: null,
        author: '',
        device: '',
        at,
        body,
        rev: null,
        seq: null,
      }),
    );
    await replica.store.seed(revisions);
    await replica.changed(revisions.map((revision) => revision.document_id));
  }
  await replica.store.setMeta('seeded', true);
}

async function fetchDemo() {
  let response: Response;
  try {
    response = await fetch('demo-campaign.json');
  } catch {
    return 'unreachable';
  }
  if (!response.ok) return 'absent';
  try {
    const checked = checkArchive(await response.json());
    return checked.ok ? checked.value : 'absent';
  } catch {
    return 'absent';
  }
}
