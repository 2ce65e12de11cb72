// The package has no types of its own; as much of it as is used here.
declare module 'subset-font' {
  /** The font with the glyphs of these characters only. */
  export default function subsetFont(
    font: Buffer,
    characters: string,
    options: { readonly targetFormat: 'woff2'; readonly noHinting: boolean },
  ): Promise<Buffer>
}
