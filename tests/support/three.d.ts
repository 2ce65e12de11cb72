// The little of the library that the tests read solids with; it brings no types of its own.
declare module 'three/addons/loaders/*' {
  interface Attribute {
    readonly count: number
    getX(index: number): number
    getY(index: number): number
    getZ(index: number): number
  }
  interface Geometry {
    readonly index: Attribute | null
    getAttribute(name: 'position'): Attribute
    applyMatrix4(matrix: unknown): Geometry
  }
  interface Read {
    readonly name: string
    readonly geometry?: Geometry
    readonly matrixWorld: unknown
    updateMatrixWorld(isForced: boolean): void
    traverse(visit: (object: Read) => void): void
  }
  export class STLLoader {
    parse(data: ArrayBuffer): Geometry
  }
  export class ThreeMFLoader {
    parse(data: ArrayBuffer): Read
  }
  interface Curves {
    getPoints(divisions: number): readonly { readonly x: number; readonly y: number }[]
  }
  export class SVGLoader {
    parse(text: string): { readonly paths: readonly { readonly subPaths: readonly Curves[] }[] }
  }
}
