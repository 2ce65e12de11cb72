import { useEffect, useState } from 'react'
import type { ReactNode } from 'react'
import { useShallow } from 'zustand/react/shallow'
import { pictureMap } from '../../core/room/index.ts'
import type { Id, Underlay } from '../../core/plan/types.ts'
import { pathUnitMm, polylineText } from '../canvas/svgPath.ts'
import { usePlan } from '../context.ts'
import { pictureOf } from './pictures.ts'
import { underlayOutline } from './outline.ts'

/** The pictures under the plan, in its units. They are seen and never touched: the pointer goes through them. */
export default function UnderlayShapes(): ReactNode {
  const ids = usePlan(useShallow((state) => Object.keys(state.plan.underlays)))
  return (
    <g className="underlays" aria-hidden="true">
      {ids.map((id) => (
        <UnderlayShape key={id} id={id} />
      ))}
    </g>
  )
}

function UnderlayShape({ id }: { readonly id: Id }): ReactNode {
  const underlay = usePlan((state) => state.plan.underlays[id])
  const picture = usePicture(underlay)
  if (underlay === undefined || !underlay.isShown) return null
  const map = pictureMap(underlay.places)
  if (map === null) return null
  if (picture === null) return <path className="underlay-missing" d={polylineText(underlayOutline(underlay, map), true)} />
  if (picture.box !== null) {
    const { box } = picture
    const unit = 1 / pathUnitMm
    return (
      <image
        href={picture.address}
        width={(box.maxX - box.minX) * unit}
        height={(box.maxY - box.minY) * unit}
        preserveAspectRatio="none"
        opacity={underlay.opacity}
        transform={`translate(${box.minX * unit} ${box.maxY * unit}) scale(1 -1)`}
      />
    )
  }
  const [a, b, c, d, e, f] = map.map((number) => number / pathUnitMm)
  return (
    <image
      href={picture.address}
      width={underlay.widthPx}
      height={underlay.heightPx}
      preserveAspectRatio="none"
      opacity={underlay.opacity}
      transform={`matrix(${a} ${d} ${b} ${e} ${c} ${f})`}
    />
  )
}

interface Shown {
  readonly address: string
  /** Where it lies when it was made square; null: as its places say. */
  readonly box: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number } | null
}

/** The picture as an address that an image can show, made anew when the picture, or the places of a slanted one, change. */
function usePicture(underlay: Underlay | undefined): Shown | null {
  const [shown, setShown] = useState<Shown | null>(null)
  const { picture, data = null, places } = underlay ?? {}
  const slanted = places?.length === 4 ? places : null
  useEffect(() => {
    if (picture === undefined) return
    let isOver = false
    let address: string | null = null
    const show = async (): Promise<void> => {
      const blob = await pictureOf({ picture, data })
      if (blob === null) return
      const map = slanted === null ? null : pictureMap(slanted)
      let box: Shown['box'] = null
      let bytes = blob
      if (slanted !== null && map !== null) {
        const { pictureSquared } = await import('./squared.ts')
        const squared = pictureSquared(await createImageBitmap(blob), map, slanted)
        const made = squared && (await new Promise<Blob | null>((done) => squared.canvas.toBlob(done)))
        if (!squared || made === null) return
        bytes = made
        box = squared.box
      }
      if (isOver) return
      address = URL.createObjectURL(bytes)
      setShown({ address, box })
    }
    // What cannot be read is shown as the frame where it would lie.
    void show().catch(() => undefined)
    return () => {
      isOver = true
      setShown(null)
      if (address !== null) URL.revokeObjectURL(address)
    }
  }, [picture, data, slanted])
  return shown
}
