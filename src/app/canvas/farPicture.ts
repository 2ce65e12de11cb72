import { pathFlatten } from '../../core/geom/index.ts'
import type { Box, Path } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { trackBox, tracksChanged, tracksWithin } from './tracksDrawn.ts'
import { lineWeight } from './lineWeight.ts'

/*
 * The lines of many tracks as seen from afar, painted as one picture. A step of a drag paints again only where the dragged line was
 * and is.
 */

type Tracks = ReadonlyMap<Id, NetworkTrack>

/** Where the picture lies: the plan's point at its upper left corner, its scale, and its size in pixels of the device. */
export interface FarFrame {
  readonly minX: number
  readonly maxY: number
  /** Pixels of the device to the mm. */
  readonly scale: number
  readonly width: number
  readonly height: number
  /** Pixels of the device to one of the page. */
  readonly density: number
  readonly ink: string
}

/** Straight between its points a line is off by so much of a device's pixel at most. */
const offPx = 0.125
/** px of the page, as the shapes have them (plan.css). */
const weights = { main: 2.8, usual: 1.9, light: 1.3 } as const
/** As broad as the broadest line and its round ends, px. */
const beyondPx = 4

/** A line's points, x and y by turns in mm, for all scales of one octave. */
interface LinePoints {
  readonly octave: number
  readonly mm: Float32Array
}
const kept = new WeakMap<Path, LinePoints>()

function pointsOf(path: Path, octave: number): Float32Array {
  const known = kept.get(path)
  if (known?.octave === octave) return known.mm
  const line = pathFlatten(path, { fromMm: 0, toMm: path.lengthMm, offsetMm: 0, toleranceMm: offPx / 2 ** octave })
  const mm = new Float32Array(2 * line.length)
  for (const [i, { x, y }] of line.entries()) {
    mm[2 * i] = x
    mm[2 * i + 1] = y
  }
  kept.set(path, { octave, mm })
  return mm
}

/** Paints all lines anew. */
export function farPaint(context: CanvasRenderingContext2D, frame: FarFrame, tracks: Tracks): void {
  context.clearRect(0, 0, frame.width, frame.height)
  paintWithin(context, frame, tracks, frameBox(frame))
}

/** Paints again what differs from the tracks that the picture shows. */
export function farRepaint(context: CanvasRenderingContext2D, frame: FarFrame, shown: Tracks, tracks: Tracks): void {
  const region = changedBox(shown, tracks)
  if (region === null) return
  const around = beyondPx * frame.density
  const left = Math.floor((region.minX - frame.minX) * frame.scale - around)
  const top = Math.floor((frame.maxY - region.maxY) * frame.scale - around)
  const right = Math.ceil((region.maxX - frame.minX) * frame.scale + around)
  const low = Math.ceil((frame.maxY - region.minY) * frame.scale + around)
  context.save()
  context.beginPath()
  context.rect(left, top, right - left, low - top)
  context.clip()
  context.clearRect(left, top, right - left, low - top)
  const more = (2 * around) / frame.scale
  paintWithin(context, frame, tracks, {
    minX: region.minX - more,
    minY: region.minY - more,
    maxX: region.maxX + more,
    maxY: region.maxY + more,
  })
  context.restore()
}

/** The box of all that stood or stands otherwise; null: nothing does. */
function changedBox(shown: Tracks, tracks: Tracks): Box | null {
  let box: Box | null = null
  const take = (track: NetworkTrack | undefined): void => {
    const one = track === undefined ? null : trackBox(track)
    if (one === null) return
    box =
      box === null
        ? one
        : {
            minX: Math.min(box.minX, one.minX),
            minY: Math.min(box.minY, one.minY),
            maxX: Math.max(box.maxX, one.maxX),
            maxY: Math.max(box.maxY, one.maxY),
          }
  }
  const changes = tracksChanged(shown, tracks)
  if (changes !== null) {
    for (const { was, is } of changes) {
      take(was)
      take(is)
    }
    return box
  }
  for (const [id, track] of tracks) {
    const before = shown.get(id)
    if (before === track) continue
    take(before)
    take(track)
  }
  for (const [id, track] of shown) if (!tracks.has(id)) take(track)
  return box
}

const frameBox = ({ minX, maxY, width, height, scale }: FarFrame): Box => ({
  minX,
  maxY,
  maxX: minX + width / scale,
  minY: maxY - height / scale,
})

/** A path for each line: one long path of many costs four times as much, since its edges are sorted together. */
function paintWithin(context: CanvasRenderingContext2D, frame: FarFrame, tracks: Tracks, box: Box): void {
  const { minX, maxY, scale } = frame
  context.strokeStyle = frame.ink
  context.lineJoin = 'round'
  const there = tracksWithin(tracks, box)
  const octave = Math.ceil(Math.log2(scale))
  for (const weight of ['light', 'usual', 'main'] as const) {
    context.lineWidth = weights[weight] * frame.density
    for (const track of there) {
      if (!track.alignment.ok || lineWeight(track.lineClass) !== weight) continue
      const line = pointsOf(track.alignment.path, octave)
      context.beginPath()
      for (let i = 0; i < line.length; i += 2) {
        const x = ((line[i] ?? 0) - minX) * scale
        const y = (maxY - (line[i + 1] ?? 0)) * scale
        if (i === 0) context.moveTo(x, y)
        else context.lineTo(x, y)
      }
      context.stroke()
    }
  }
}
