import regular from '@expo-google-fonts/ibm-plex-sans-condensed/400Regular/IBMPlexSansCondensed_400Regular.ttf?woff2'
import semibold from '@expo-google-fonts/ibm-plex-sans-condensed/600SemiBold/IBMPlexSansCondensed_600SemiBold.ttf?woff2'

/**
 * The face of the screen, the same as on the sheets. The whole face, not a web subset: only it has the eighths, the
 * primes and the arrows that lengths are written with. Until it is there, the system's own face stands in.
 */
export function fontsAdd(fonts: FontFaceSet): void {
  for (const [address, weight] of [
    [regular, '400'],
    [semibold, '600'],
  ] as const) {
    fonts.add(new FontFace('IBM Plex Sans Condensed', `url(${JSON.stringify(address)})`, { weight, display: 'swap' }))
  }
}
