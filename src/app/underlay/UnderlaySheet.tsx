import { useEffect, useRef, useState } from 'react'
import type { KeyboardEvent, PointerEvent, ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { pictureMap, roomUsual } from '../../core/room/index.ts'
import type { PicturePlace } from '../../core/room/index.ts'
import { pointCross, pointSubtract } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { keepFailure } from '../../store/shelf.ts'
import { nextName } from '../../tools/index.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { fileChoose } from '../file/planFile.ts'
import { Act } from '../particulars/acts.tsx'
import { planBoxNow } from '../planBox.ts'
import { planEdit } from '../planEdit.ts'
import { viewportFit } from '../viewportShow.ts'
import { pictures } from './pictures.ts'
import '../room/room.css'
import './underlay.css'

const accept = 'image/png,image/jpeg,image/webp'

/** A sketch or a photo to draw over: two places of known distance on it, or the four corners of something of known size. */
export default function UnderlaySheet(): ReactNode {
  const setDesk = useDesk((desk) => desk.set)
  const file = useDesk((desk) => desk.picture)
  const close = (): void => setDesk({ dialog: null, picture: null })
  return (
    <Sheet onShut={close} look="room">
      <Heading slot="title">A picture under the plan</Heading>
      {file === null ? (
        <>
          <p>
            A sketch, a scan, a photo of the bench from above or at a slant: PNG, JPEG or WebP. It stays in this browser; nothing is sent
            anywhere.
          </p>
          <div className="acts">
            <Act isMain onClick={() => fileChoose(accept, (picture) => setDesk({ picture }))}>
              Choose a picture…
            </Act>
            <Act onClick={close}>Leave it</Act>
          </div>
        </>
      ) : (
        <PicturePlaces key={`${file.name} ${file.size}`} file={file} onShut={close} />
      )}
    </Sheet>
  )
}

function PicturePlaces({ file, onShut }: { readonly file: File; readonly onShut: () => void }): ReactNode {
  const stores = useStores()
  const usual = roomUsual(usePrefs((prefs) => prefs.units))
  const [size, setSize] = useState<{ readonly widthPx: number; readonly heightPx: number } | null>(null)
  const [by, setBy] = useState<'two' | 'four'>('two')
  const [places, setPlaces] = useState<readonly Point[]>([])
  const [distanceMm, setDistance] = useState(usual.sideMm)
  const [acrossMm, setAcross] = useState(usual.tableLongMm)
  const [deepMm, setDeep] = useState(usual.tableLongMm / 2)
  const [wrong, setWrong] = useState<string | null>(null)
  const address = useAddress(file)
  const need = by === 'two' ? 2 : 4
  const set = placesInPlan(places, by, { distanceMm, acrossMm, deepMm }, originOf(stores))
  const unfit = placesUnfit(places, by)
  const told = wrong ?? unfit
  const place = (next: readonly Point[]): void => {
    setPlaces(next)
    setWrong(null)
  }

  async function keep(): Promise<void> {
    if (set === null || size === null) return
    if (pictureMap(set) === null) {
      setWrong('These places do not say how the picture lies: no two may be the same and no three in a line, and they go round in order.')
      return
    }
    let picture: string
    try {
      picture = await pictures.keep(file)
    } catch (error) {
      const { reason, message } = keepFailure(error)
      setWrong(reason === 'full' ? 'There is no room left in this browser for the picture.' : `The picture cannot be kept here: ${message}`)
      return
    }
    const name = nextName('Picture', Object.values(stores.plan.getState().plan.underlays))
    const { added, problem } = planEdit(stores, {
      kind: 'underlay.add',
      record: { name, picture, ...size, data: null, places: set, opacity: 0.5, isShown: true },
    })
    if (problem !== null) return setWrong(problem)
    if (added !== null) stores.session.getState().select({ kind: 'record', table: 'underlays', id: added })
    const whole = planBoxNow(stores)
    if (whole !== null) viewportFit(stores, whole)
    onShut()
  }

  return (
    <>
      <div className="fields">
        <ChoiceField<'two' | 'four'>
          label="It is"
          value={by}
          choices={[
            { value: 'two', text: 'a scan or seen from straight above: two places' },
            { value: 'four', text: 'a photo at a slant: four corners of a rectangle' },
          ]}
          onChoose={(choice) => {
            setBy(choice)
            setPlaces([])
          }}
        />
        {by === 'two' ? (
          <LengthField label="Between them" kind="room" value={distanceMm} keep={keepIn(setDistance)} />
        ) : (
          <>
            <LengthField label="First to second" kind="room" value={acrossMm} keep={keepIn(setAcross)} />
            <LengthField label="Second to third" kind="room" value={deepMm} keep={keepIn(setDeep)} />
          </>
        )}
      </div>
      <p className="soft small">
        {places.length < need
          ? `Point at place ${places.length + 1} of ${need}${by === 'four' ? ', going round the rectangle against the clock from its lower left' : ''}. Keys: arrows move the cross, Enter sets a place, Backspace takes the last one back.`
          : 'All places are set. Backspace takes the last one back.'}
      </p>
      <PlacePicker
        address={address}
        places={places}
        need={need}
        onSize={setSize}
        onPlaces={place}
        onUnreadable={() => setWrong('This picture cannot be read. PNG, JPEG and WebP can.')}
      />
      {told === null ? null : (
        <p className="field-wrong" role="alert">
          {told}
        </p>
      )}
      <div className="acts">
        <Act isMain isDisabled={set === null || size === null || unfit !== null} onClick={() => void keep()}>
          Lay it under the plan
        </Act>
        {places.length === 0 ? null : <Act onClick={() => place(places.slice(0, -1))}>Take the last place back</Act>}
        <Act onClick={onShut}>Leave it</Act>
      </div>
    </>
  )
}

/** An address at which an image finds the file, as long as it is shown. */
function useAddress(file: File): string {
  const [address] = useState(() => URL.createObjectURL(file))
  useEffect(() => () => URL.revokeObjectURL(address), [address])
  return address
}

/** The picture with a mark at each place. One press of the pointer, or of Enter at the cross, sets the next. */
function PlacePicker(props: {
  readonly address: string
  readonly places: readonly Point[]
  readonly need: number
  readonly onSize: (size: { readonly widthPx: number; readonly heightPx: number }) => void
  readonly onPlaces: (places: readonly Point[]) => void
  readonly onUnreadable: () => void
}): ReactNode {
  const { address, places, need, onSize, onPlaces } = props
  const image = useRef<HTMLImageElement>(null)
  const [natural, setNatural] = useState({ x: 1, y: 1 })
  const [cross, setCross] = useState<Point | null>(null)
  const add = (at: Point): void => {
    if (places.length < need) onPlaces([...places, at])
  }
  const pointed = (event: PointerEvent): void => {
    const box = image.current?.getBoundingClientRect()
    if (box === undefined || box.width === 0) return
    add({ x: ((event.clientX - box.left) / box.width) * natural.x, y: ((event.clientY - box.top) / box.height) * natural.y })
  }
  const key = (event: KeyboardEvent): void => {
    const step = (event.shiftKey ? 0.05 : 0.004) * Math.max(natural.x, natural.y)
    const at = cross ?? { x: natural.x / 2, y: natural.y / 2 }
    const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key]
    if (by !== undefined) {
      const within = (value: number, most: number): number => Math.max(0, Math.min(most, value))
      setCross({ x: within(at.x + (by[0] ?? 0) * step, natural.x), y: within(at.y + (by[1] ?? 0) * step, natural.y) })
    } else if (event.key === 'Enter') add(at)
    else if (event.key === 'Backspace') onPlaces(places.slice(0, -1))
    else return
    event.preventDefault()
  }
  const share = ({ x, y }: Point): { readonly left: string; readonly top: string } => ({
    left: `${(x / natural.x) * 100}%`,
    top: `${(y / natural.y) * 100}%`,
  })
  return (
    // It is drawn on by pointer and keys, as the canvas is.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <div
      className="picture-places"
      role="application"
      aria-label="Places on the picture"
      // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
      tabIndex={0}
      onPointerDown={pointed}
      onKeyDown={key}
    >
      <img
        ref={image}
        src={address}
        alt="What will lie under the plan"
        draggable={false}
        onLoad={({ currentTarget: { naturalWidth, naturalHeight } }) => {
          setNatural({ x: naturalWidth, y: naturalHeight })
          onSize({ widthPx: naturalWidth, heightPx: naturalHeight })
        }}
        onError={props.onUnreadable}
      />
      {places.map((place, i) => (
        <span key={i} className="picture-place" style={share(place)}>
          {i + 1}
        </span>
      ))}
      {cross === null || places.length >= need ? null : <span className="picture-cross" style={share(cross)} />}
    </div>
  )
}

/** The first place of a new picture lies where the plan begins. */
function originOf(stores: ReturnType<typeof useStores>): Point {
  const box = planBoxNow(stores)
  return box === null ? { x: 0, y: 0 } : { x: box.minX, y: box.minY }
}

/** Why nothing can be laid by these places, and what to do; null: it can, or they are not all set yet. Heights of a picture count down. */
function placesUnfit(places: readonly Point[], by: 'two' | 'four'): string | null {
  const [a, b, c, d] = places
  if (a === undefined || b === undefined) return null
  if (by === 'two')
    return a.x === b.x && a.y === b.y
      ? 'Both places are the same: no distance lies between them. Backspace takes the second back; set it elsewhere.'
      : null
  if (c === undefined || d === undefined) return null
  const isLeft = (from: Point, to: Point, next: Point): boolean => pointCross(pointSubtract(to, from), pointSubtract(next, to)) < 0
  return isLeft(a, b, c) && isLeft(b, c, d) && isLeft(c, d, a) && isLeft(d, a, b)
    ? null
    : 'The places do not go round a rectangle against the clock: lower left, lower right, upper right, upper left. Backspace takes the last one back.'
}

/** Two places keep the direction that they have on the picture; four are a rectangle along the axes. */
function placesInPlan(
  places: readonly Point[],
  by: 'two' | 'four',
  { distanceMm, acrossMm, deepMm }: { readonly distanceMm: number; readonly acrossMm: number; readonly deepMm: number },
  { x, y }: Point,
): readonly PicturePlace[] | null {
  const [a, b, c, d] = places
  if (a === undefined || b === undefined) return null
  if (by === 'two') {
    const px = Math.hypot(b.x - a.x, b.y - a.y)
    if (px === 0) return null
    const scale = distanceMm / px
    return [
      { px: a, at: { x, y } },
      { px: b, at: { x: x + (b.x - a.x) * scale, y: y - (b.y - a.y) * scale } },
    ]
  }
  if (c === undefined || d === undefined) return null
  return [
    { px: a, at: { x, y } },
    { px: b, at: { x: x + acrossMm, y } },
    { px: c, at: { x: x + acrossMm, y: y + deepMm } },
    { px: d, at: { x, y: y + deepMm } },
  ]
}
