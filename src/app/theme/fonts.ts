import regularMore from '@expo-google-fonts/ibm-plex-sans-condensed/400Regular/IBMPlexSansCondensed_400Regular.ttf?more'
import regular from '@expo-google-fonts/ibm-plex-sans-condensed/400Regular/IBMPlexSansCondensed_400Regular.ttf?usual'
import semiboldMore from '@expo-google-fonts/ibm-plex-sans-condensed/600SemiBold/IBMPlexSansCondensed_600SemiBold.ttf?more'
import semibold from '@expo-google-fonts/ibm-plex-sans-condensed/600SemiBold/IBMPlexSansCondensed_600SemiBold.ttf?usual'
import { unicodeRange } from './faceRanges.ts'

/**
 * The face of the screen, the same as on the sheets, packed with the eighths, the primes and the arrows that lengths
 * are written with (vite/screenFace.ts). Until it is there, and for other scripts, the system's own face stands in.
 */
export function fontsAdd(fonts: FontFaceSet): void {
  for (const [address, weight, part] of [
    [regular, '400', 'usual'],
    [regularMore, '400', 'more'],
    [semibold, '600', 'usual'],
    [semiboldMore, '600', 'more'],
  ] as const) {
    const descriptors = { weight, display: 'swap', unicodeRange: unicodeRange(part) } as const
    fonts.add(new FontFace('IBM Plex Sans Condensed', `url(${JSON.stringify(address)})`, descriptors))
  }
}
