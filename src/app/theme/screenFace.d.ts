/** Address of a face with the usual characters, packed by vite/screenFace.ts. */
declare module '*?usual' {
  const address: string
  export default address
}

/** Address of the same face with the rarer ones. */
declare module '*?more' {
  const address: string
  export default address
}
