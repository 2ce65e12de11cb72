import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import type { SheetFonts } from '../formats/pdf.ts'

/** The sheets' fonts from the installed package. */
export async function sheetFontsRead(): Promise<SheetFonts> {
  const [regular, bold] = await Promise.all([
    bytesOf('400Regular/IBMPlexSansCondensed_400Regular.ttf'),
    bytesOf('600SemiBold/IBMPlexSansCondensed_600SemiBold.ttf'),
  ])
  return { regular, bold }
}

async function bytesOf(file: string): Promise<Uint8Array> {
  const path = createRequire(import.meta.url).resolve(`@expo-google-fonts/ibm-plex-sans-condensed/${file}`)
  return new Uint8Array(await readFile(path))
}
