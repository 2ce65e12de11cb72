import { useEffect, useRef } from 'react'
import type { ReactNode } from 'react'
import { solidPicture } from '../../formats/solid/picture.ts'
import type { Mesh, SolidPiece } from '../../formats/solid/types.ts'
import type { Solids } from './useSolids.ts'

const [width, height] = [620, 300]
/** Pieces lie apart by so much of the broadest. */
const apartPart = 0.25
/** Plastic, and the lines of its edges: pale on both grounds. */
const inks = { face: [226, 214, 190], edge: [66, 56, 44] } as const

/** All pieces as they come off the bed, seen from the front and above. */
export function JigPicture({ solids }: { readonly solids: Solids }): ReactNode {
  const canvas = useRef<HTMLCanvasElement>(null)
  const pieces = solids.kind === 'made' ? solids.pieces : null
  useEffect(() => {
    const context = pieces === null ? null : (canvas.current?.getContext('2d') ?? null)
    if (context === null || pieces === null) return
    const { pixels } = solidPicture(sideBySide(pieces), width, height, inks)
    context.putImageData(new ImageData(pixels, width, height), 0, 0)
  }, [pieces])
  if (solids.kind === 'failed') return <p role="alert">{solids.message}</p>
  const count = pieces?.length ?? 0
  return (
    <canvas
      ref={canvas}
      className="jig-picture"
      width={width}
      height={height}
      role="img"
      aria-busy={pieces === null}
      aria-label={count === 1 ? 'The jig from the front and above' : `Its ${count} pieces from the front and above`}
    />
  )
}

function sideBySide(pieces: readonly SolidPiece[]): readonly Mesh[] {
  const apart = apartPart * Math.max(...pieces.map(({ sizeMm }) => sizeMm[1]))
  let y = 0
  return pieces.map(({ mesh, sizeMm }) => {
    const aside = y
    y += sizeMm[1] + apart
    return { ...mesh, corners: mesh.corners.map((value, i) => (i % 3 === 1 ? value - aside : value)) }
  })
}
