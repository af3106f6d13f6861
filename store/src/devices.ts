import type { Database, DeviceTable } from './schema.ts';
import type { StoredDevice, TastingStore } from './tasting-types.ts';

type Named = <T>(work: Promise<T>) => Promise<T>;

type DeviceStore = Pick<
  TastingStore,
  'addDevice' | 'devices' | 'deviceByToken' | 'seeDevice' | 'removeDevice' | 'refuseJoin' | 'refusedJoins'
>;

/** Devices of hosts and coaches, and codes that were wrong. */
export function deviceStore(db: Database, named: Named): DeviceStore {
  return {
    addDevice: (device) =>
      named(
        db
          .insertInto('devices')
          .values(device)
          .execute()
          .then(() => undefined),
      ),
    devices: () => named(allDevices(db)),
    deviceByToken: (hash) => named(deviceByToken(db, hash)),
    seeDevice: (device_id, at) =>
      named(
        db
          .updateTable('devices')
          .set({ seen_at: at })
          .where('device_id', '=', device_id)
          .execute()
          .then(() => undefined),
      ),
    removeDevice: (device_id) =>
      named(
        db
          .deleteFrom('devices')
          .where('device_id', '=', device_id)
          .execute()
          .then(() => undefined),
      ),
    refuseJoin: (address, at, forget_before) => named(refuseJoin(db, address, at, forget_before)),
    refusedJoins: (address, since) => named(refusedJoins(db, address, since)),
  };
}

const toDevice = (row: DeviceTable): StoredDevice => ({
  ...row,
  role: row.role === 'host' ? 'host' : 'coach',
});

async function allDevices(db: Database): Promise<StoredDevice[]> {
  const rows = await db.selectFrom('devices').selectAll().orderBy('paired_at').execute();
  return rows.map(toDevice);
}

async function deviceByToken(db: Database, hash: string): Promise<StoredDevice | undefined> {
  const row = await db.selectFrom('devices').selectAll().where('token_hash', '=', hash).executeTakeFirst();
  return row && toDevice(row);
}

async function refuseJoin(db: Database, address: string, at: number, forget_before: number): Promise<void> {
  await db.transaction().execute(async (tx) => {
    await tx.deleteFrom('refused_joins').where('at', '<', forget_before).execute();
    await tx.insertInto('refused_joins').values({ address, at }).execute();
  });
}

async function refusedJoins(
  db: Database,
  address: string,
  since: number,
): Promise<{ address: number; all: number }> {
  const rows = await db.selectFrom('refused_joins').select('address').where('at', '>=', since).execute();
  return { address: rows.filter((r) => r.address === address).length, all: rows.length };
}
