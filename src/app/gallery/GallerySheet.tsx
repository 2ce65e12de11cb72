import { useEffect, useMemo, useRef } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import type { GalleryKey, GalleryPiece } from '../../core/gallery/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { svgFromSheet } from '../../formats/svg.ts'
import { galleryFigureText, galleryParts, galleryProblemText, galleryWarning, galleryWords } from '../../words/galleryText.ts'
import { fineText } from '../../words/measure.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePlan, usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'
import { useGallery } from './useGallery.ts'
import './gallery.css'

/** Every kind of turnout and crossing, drawn for the scale and standards of the railway on the desk. */
export default function GallerySheet(): ReactNode {
  const plan = usePlan((state) => state.committed)
  const prefs = usePrefs((state) => state)
  const setDesk = useDesk((desk) => desk.set)
  const { pieces, want } = useGallery(plan)
  const shut = (): void => setDesk({ dialog: null })
  const { gaugeMm, scaleKey } = plan.railway
  return (
    <Sheet onShut={shut} look="gallery">
      <header className="gallery-head">
        <div>
          <Heading slot="title">Gallery of turnouts and crossings</Heading>
          <p className="soft small">
            {scaleKey === 'custom' ? 'Own scale' : scaleKey}, gauge {fineText(gaugeMm, prefs)}: each built to the standards of this railway,
            frogs No. 6 where nothing else is said.
          </p>
        </div>
        <button type="button" className="act" onClick={shut}>
          Close
        </button>
      </header>
      {galleryParts.map(({ name, keys, isLong }) => (
        <section key={name} className="gallery-part" aria-label={name}>
          <h3>{name}</h3>
          <div className={isLong === true ? 'gallery-pieces is-wide' : 'gallery-pieces'}>
            {keys.map((key) => (
              <Piece key={key} name={key} piece={pieces.get(key)} plan={plan} want={want} />
            ))}
          </div>
        </section>
      ))}
    </Sheet>
  )
}

function Piece(props: {
  readonly name: GalleryKey
  /** Undefined: not drawn yet; null: the plan has no class that it could be built to. */
  readonly piece: GalleryPiece | null | undefined
  readonly plan: Plan
  readonly want: (key: GalleryKey) => void
}): ReactNode {
  const { name, piece, plan, want } = props
  const { name: title, about } = galleryWords[name]
  const prefs = usePrefs((state) => state)
  const frame = useRef<HTMLElement>(null)
  useEffect(() => {
    const element = frame.current
    if (element === null) return undefined
    const observer = new IntersectionObserver((entries) => (entries.some((entry) => entry.isIntersecting) ? want(name) : undefined), {
      rootMargin: '300px',
    })
    observer.observe(element)
    return () => observer.disconnect()
  }, [name, want])
  const figures = piece?.ok === true ? piece.figures : []
  const warning = galleryWarning(figures)
  return (
    <figure className="gallery-piece" ref={frame} aria-busy={piece === undefined}>
      <Picture title={title} name={name} piece={piece} />
      <figcaption>
        <h4>{title}</h4>
        <p>{about}</p>
        {piece?.ok === false ? <p className="gallery-none">{galleryProblemText(piece.problem, plan, prefs)}</p> : null}
        <dl className="gallery-figures">
          {figures.map((figure) => {
            const { what, value } = galleryFigureText(figure, prefs)
            return (
              <div key={figure.kind}>
                <dt>{what}</dt>
                <dd>{value}</dd>
              </div>
            )
          })}
        </dl>
        {warning === null ? null : <p className="soft small">{warning}</p>}
      </figcaption>
    </figure>
  )
}

/** Small ones are shown larger than they are, but not so large that their neighbours look like toys. */
const enlarged = 2.4

function Picture({
  title,
  name,
  piece,
}: {
  readonly title: string
  readonly name: GalleryKey
  readonly piece: GalleryPiece | null | undefined
}): ReactNode {
  const picture = piece?.ok === true ? piece.picture : null
  const markup = useMemo(
    () => (picture === null ? '' : svgFromSheet(picture, { idPrefix: `gallery-${name}`, decimals: 2 })),
    [picture, name],
  )
  if (picture === null) return <div className="gallery-paper is-empty" />
  const { widthMm, heightMm } = picture.paper
  return (
    <div className="gallery-paper">
      {/* Our own drawing of our own sheet; the texts in it are escaped where it is made. */}
      <div
        role="img"
        aria-label={`${title}, drawn from above`}
        style={{ aspectRatio: `${widthMm} / ${heightMm}`, maxWidth: `${Math.round(widthMm * enlarged)}mm` }}
        dangerouslySetInnerHTML={{ __html: markup }}
      />
    </div>
  )
}
