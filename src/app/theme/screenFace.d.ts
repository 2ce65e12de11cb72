/** Address of a face, packed by vite/screenFace.ts. */
declare module '*?screen' {
  const address: string
  export default address
}
