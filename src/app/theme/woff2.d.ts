/** Address of a face, packed by vite/woff2.ts. */
declare module '*?woff2' {
  const address: string
  export default address
}
