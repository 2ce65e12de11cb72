// The package has types, but its export map hides them.
declare module 'cephes' {
  const cephes: {
    readonly compiled: Promise<void>
    /** Fresnel integrals with pi/2 inside. Returns [0, { ssa: S(x), cca: C(x) }]. */
    fresnl(x: number): [number, { readonly ssa: number; readonly cca: number }]
  }
  export default cephes
}
