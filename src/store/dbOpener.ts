import { openDB } from 'idb'
import type { DBSchema, IDBPDatabase, OpenDBCallbacks } from 'idb'

/** A page of an older version that is asked to let go of the database does so at once, unless it is frozen. */
const patienceMs = 3000

/** A browser that has not even begun by then, with nobody in the way, seldom does any more; the page stands for so long without its plan. */
const silenceMs = 8000

/**
 * The one connection to a database, opened when first needed and again when it was lost: the browser shut it, the person had it thrown
 * away, or a later version of the app wants to change it, which waits for nobody.
 */
export function dbOpener<Schema extends DBSchema>(
  name: string,
  version: number,
  upgrade: NonNullable<OpenDBCallbacks<Schema>['upgrade']>,
): () => Promise<IDBPDatabase<Schema>> {
  let opened: Promise<IDBPDatabase<Schema>> | null = null
  return () => {
    opened ??= open()
    return opened
  }

  async function open(): Promise<IDBPDatabase<Schema>> {
    const forget = (): void => {
      opened = null
    }
    try {
      return await inTime(({ blocked, begun }) =>
        openDB<Schema>(name, version, {
          upgrade(...given) {
            begun()
            return upgrade(...given)
          },
          blocked,
          blocking(_current, _wanted, event) {
            if (event.target instanceof IDBDatabase) event.target.close()
            forget()
          },
          terminated: forget,
        }),
      )
    } catch (error) {
      forget()
      throw error
    }
  }
}

interface Signs {
  readonly blocked: () => void
  readonly begun: () => void
}

/** A database that does not open in time, because another page holds an older one or for no known reason: told, and not waited for. */
function inTime<Db extends { close(): void }>(open: (signs: Signs) => Promise<Db>): Promise<Db> {
  return new Promise((resolve, reject) => {
    let isLate = false
    const late = (name: string, message: string): void => {
      isLate = true
      reject(new DOMException(message, name))
    }
    const silence = setTimeout(() => late('UnknownError', 'the browser does not open its storage'), silenceMs)
    const begun = (): void => clearTimeout(silence)
    const blocked = (): void => {
      begun()
      setTimeout(() => late('TimeoutError', 'a page with an older version holds the database'), patienceMs)
    }
    open({ blocked, begun }).then(
      (db) => {
        begun()
        // Nobody knows of it any more.
        if (isLate) db.close()
        else resolve(db)
      },
      (error: unknown) => {
        begun()
        reject(error instanceof Error ? error : new Error(String(error)))
      },
    )
  })
}
