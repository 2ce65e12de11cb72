import { useEffect, useMemo, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import type { Sheet } from '../../core/deliver/types.ts'
import { svgFromSheet } from '../../formats/svg.ts'
import { upperFirst } from '../../words/names.ts'
import { useSheets } from './useSheets.ts'

/** The pages as they will come out of the printer, laid out on the table. */
export default function SheetPages(): ReactNode {
  const { set } = useSheets()
  if (set.sheets.length === 0) return <p className="lead loading">{set.problems[0] ?? 'Nothing to print yet.'}</p>
  return (
    // To be scrolled by keyboard as well.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
    <section className="pages" aria-label={`Sheets of ${set.title}`} tabIndex={0}>
      {set.sheets.map((sheet, index) => (
        <Page key={sheet.name} sheet={sheet} index={index} count={set.sheets.length} />
      ))}
    </section>
  )
}

const sheetWords = ({ kind, name }: Sheet): string => (kind === 'index' ? 'index sheet' : `sheet ${name}`)

function Page({ sheet, index, count }: { readonly sheet: Sheet; readonly index: number; readonly count: number }): ReactNode {
  const frame = useRef<HTMLElement>(null)
  const [isNear, setNear] = useState(index < 6)
  // A yard is a hundred pages: each is drawn when it comes near the view, and stays.
  useEffect(() => {
    const element = frame.current
    if (element === null || isNear) return undefined
    const observer = new IntersectionObserver((entries) => (entries.some((entry) => entry.isIntersecting) ? setNear(true) : undefined), {
      rootMargin: '600px',
    })
    observer.observe(element)
    return () => observer.disconnect()
  }, [isNear])
  const markup = useMemo(() => (isNear ? svgFromSheet(sheet, { idPrefix: `page-${index}`, decimals: 2 }) : ''), [sheet, index, isNear])
  const { widthMm, heightMm } = sheet.paper
  return (
    <figure className="page" ref={frame}>
      {/* Our own drawing of our own sheet; the texts in it are escaped where it is made. */}
      <div
        className="page-paper"
        role="img"
        aria-label={`${sheet.title}, ${sheetWords(sheet)}`}
        style={{ aspectRatio: `${widthMm} / ${heightMm}` }}
        dangerouslySetInnerHTML={{ __html: markup }}
      />
      <figcaption className="soft small">
        {upperFirst(sheetWords(sheet))} · page {index + 1} of {count}
      </figcaption>
    </figure>
  )
}
