import type { DBSchema } from 'idb'
import { dbOpener } from './dbOpener.ts'

/** Pictures under plans, by the SHA-256 of their bytes: the same picture is kept once, whatever plans show it. */
export interface PictureShelf {
  /** Null: it is not kept in this browser. */
  read(key: string): Promise<Blob | null>
  /** Gives the key. May reject: storage full or forbidden. */
  keep(picture: Blob): Promise<string>
}

interface PictureDb extends DBSchema {
  pictures: { key: string; value: Blob }
}

export function picturesIdb(name = 'waybench-pictures'): PictureShelf {
  const database = dbOpener<PictureDb>(name, 1, (db) => void db.createObjectStore('pictures'))
  return {
    read: async (key) => (await (await database()).get('pictures', key)) ?? null,
    async keep(picture) {
      const key = await pictureKey(picture)
      await (await database()).put('pictures', picture, key)
      return key
    },
  }
}

/** SHA-256 of the bytes, in hexadecimal. */
export async function pictureKey(picture: Blob): Promise<string> {
  const hash = await crypto.subtle.digest('SHA-256', await picture.arrayBuffer())
  return Array.from(new Uint8Array(hash), (byte) => byte.toString(16).padStart(2, '0')).join('')
}
