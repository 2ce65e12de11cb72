import type { Underlay } from '../../core/plan/types.ts'
import { picturesIdb } from '../../store/pictures.ts'

export const pictures = picturesIdb()

/** Carried in a plan file up to so many bytes: the file is read and kept as a whole. */
export const carriedLimitBytes = 8 * 1024 * 1024

/** The picture of an underlay: out of the plan where it carries it, else from this browser; null: it is in neither. */
export async function pictureOf({ data, picture }: Pick<Underlay, 'data' | 'picture'>): Promise<Blob | null> {
  if (data === null) return pictures.read(picture)
  const [head = '', text = ''] = data.split(',', 2)
  return new Blob([Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))], { type: /^data:([^;]+)/.exec(head)?.[1] ?? 'image/png' })
}

/** A picture as a data URL. */
export async function pictureData(picture: Blob): Promise<string> {
  const bytes = new Uint8Array(await picture.arrayBuffer())
  let text = ''
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000))
  return `data:${picture.type};base64,${btoa(text)}`
}
