import {
  CompiledQuery,
  type DatabaseConnection,
  type DialectAdapter,
  type Driver as KyselyDriver,
  SqliteAdapter,
  SqliteDialect,
  SqliteDriver,
} from 'kysely';
import type { Driver } from './driver.ts';

/**
 * SQLite as the store needs it: every transaction takes the write lock at its start, so that what it reads cannot
 * change before it writes; and the schema is migrated inside one, so that a killed first start leaves nothing half
 * made.
 */
export class ImmediateDialect extends SqliteDialect {
  readonly #database: Driver;

  constructor(database: Driver) {
    super({ database });
    this.#database = database;
  }

  override createDriver(): KyselyDriver {
    return new ImmediateDriver({ database: this.#database });
  }

  override createAdapter(): DialectAdapter {
    return new TransactionalAdapter();
  }
}

class ImmediateDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'));
  }
}

class TransactionalAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}
