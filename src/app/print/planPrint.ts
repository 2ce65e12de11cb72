import { planTracing } from '../../core/deliver/index.ts'
import { planMark } from '../../core/deliver/planMark.ts'
import { traceImage } from '../../formats/traceSvg.ts'
import { findingPlace, findingText } from '../../words/findingText.ts'
import { fineText, lengthText } from '../../words/measure.ts'
import type { Stores } from '../context.ts'
import { planMarks } from './planMarks.ts'
import './planPrint.css'

/** Fine enough for a page of Letter or A3: a hundredth of an inch on the model is less than the ink spreads. */
const toleranceMm = 0.1
/** Width that the picture is drawn for, px; lines are as heavy as they look right at on an office page. */
const widthPx = 1400

/**
 * The plan on one page, for the wall or a letter: its picture as large as the page takes, its tracks, what the checks say. Not to scale, and
 * says so: sheets at full size are made by the Sheets stage. Opens the browser's own printing, and leaves nothing behind.
 */
export async function planPrint(stores: Stores): Promise<void> {
  const { derived, findings } = stores.derived.getState()
  const { plan, network } = derived
  const prefs = stores.prefs.getState()
  const { title, scaleKey, ratio, gaugeMm } = plan.railway

  const image = new Image()
  const drawn = traceImage(title, planTracing(derived, toleranceMm), widthPx, '#ffffff', (mmPerPx) =>
    planMarks({ plan, network, findings, prefs }, mmPerPx),
  )
  const address = URL.createObjectURL(new Blob([drawn.svg], { type: 'image/svg+xml' }))
  image.src = address
  image.alt = `Plan of ${title}`
  await image.decode()

  const page = element('article', '', 'print-view')
  page.append(
    element('h1', title),
    element(
      'p',
      [
        `${scaleKey === 'custom' ? 'Own scale' : scaleKey}, 1:${ratio}`,
        `gauge ${fineText(gaugeMm, prefs)}`,
        `plan ${planMark(plan)}`,
        'not to scale',
      ].join(' · '),
    ),
    image,
    list(
      'Tracks, by the numbers beside them',
      Object.values(plan.tracks).map(({ id, name, lineClass }) => {
        const alignment = network.tracks.get(id)?.alignment
        const length = alignment?.ok === true ? lengthText(alignment.path.lengthMm, prefs, 'room') : 'not solved'
        return `${name}, ${plan.lineClasses[lineClass]?.name ?? ''}: ${length}`
      }),
    ),
    list(
      'Findings, by the numbers in diamonds',
      findings.map((finding) => {
        const words = findingText(finding, plan, prefs)
        return `${words.title} (${findingPlace(finding, plan)}). ${words.body}`
      }),
    ),
  )
  const name = document.title
  document.body.append(page)
  // What the browser proposes as a name for a PDF.
  document.title = title
  window.addEventListener(
    'afterprint',
    () => {
      document.title = name
      page.remove()
      URL.revokeObjectURL(address)
    },
    { once: true },
  )
  window.print()
}

function list(heading: string, lines: readonly string[]): HTMLElement | string {
  if (lines.length === 0) return ''
  const part = element('section', '')
  const items = element('ol', '')
  items.append(...lines.map((line) => element('li', line)))
  part.append(element('h2', heading), items)
  return part
}

function element(kind: 'article' | 'section' | 'h1' | 'h2' | 'p' | 'ol' | 'li', text: string, className = ''): HTMLElement {
  const made = document.createElement(kind)
  made.textContent = text
  if (className !== '') made.className = className
  return made
}
