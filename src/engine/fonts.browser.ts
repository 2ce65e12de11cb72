import regularUrl from '@expo-google-fonts/ibm-plex-sans-condensed/400Regular/IBMPlexSansCondensed_400Regular.ttf?url'
import boldUrl from '@expo-google-fonts/ibm-plex-sans-condensed/600SemiBold/IBMPlexSansCondensed_600SemiBold.ttf?url'
import type { SheetFonts } from '../formats/pdf.ts'

/** The sheets' fonts, fetched from beside the app. */
export async function sheetFontsFetched(): Promise<SheetFonts> {
  const [regular, bold] = await Promise.all([bytesAt(regularUrl), bytesAt(boldUrl)])
  return { regular, bold }
}

async function bytesAt(url: string): Promise<Uint8Array> {
  const answer = await fetch(url)
  if (!answer.ok) throw new Error(`${url}: ${answer.status} ${answer.statusText}`)
  return new Uint8Array(await answer.arrayBuffer())
}
