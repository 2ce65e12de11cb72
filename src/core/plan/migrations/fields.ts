import type { Data } from '../data.ts'

export type Fields = { readonly [key: string]: Data }

export function isTable(data: Data | undefined): data is Fields {
  return typeof data === 'object' && data !== null && !Array.isArray(data)
}
