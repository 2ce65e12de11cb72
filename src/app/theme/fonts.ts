import regular from '@expo-google-fonts/ibm-plex-sans-condensed/400Regular/IBMPlexSansCondensed_400Regular.ttf?screen'
import semibold from '@expo-google-fonts/ibm-plex-sans-condensed/600SemiBold/IBMPlexSansCondensed_600SemiBold.ttf?screen'

/**
 * The face of the screen, the same as on the sheets, packed with the eighths, the primes and the arrows that lengths
 * are written with (vite/screenFace.ts). Until it is there, and for other scripts, the system's own face stands in.
 */
export function fontsAdd(fonts: FontFaceSet): void {
  for (const [address, weight] of [
    [regular, '400'],
    [semibold, '600'],
  ] as const) {
    fonts.add(new FontFace('IBM Plex Sans Condensed', `url(${JSON.stringify(address)})`, { weight, display: 'swap' }))
  }
}
