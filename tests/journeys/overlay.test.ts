import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { browserLaunch } from '../../scripts/browser.mjs'
import { sheetsForSubject } from '../../src/core/deliver/index.ts'
import type { Sheet } from '../../src/core/deliver/types.ts'
import type { Box, Point } from '../../src/core/geom/types.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import { svgFromSheet } from '../../src/formats/svg.ts'
import { aPaper } from '../support/paper.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../support/plans.ts'

let browser: Browser
beforeAll(async () => {
  browser = await browserLaunch()
})
afterAll(async () => {
  await browser.close()
})

/** 200 dots to the inch, nearly: a rail head of HO is eight of them wide. */
const PX_PER_MM = 8

/** What has to go on over the edge: rails and ties. No words, no dashes, which begin anew on each page, and no marks for other neighbours. */
function linesOf(sheet: Sheet): Sheet {
  const isLine = (item: Sheet['items'][number]): boolean => item.kind === 'stroke' && ['rail-head', 'rail-foot', 'ties'].includes(item.layer)
  return { ...sheet, items: sheet.items.filter(isLine) }
}

function onPage({ toPage: { planOrigin, angleRad, pageOrigin, scaleX, scaleY } }: Sheet, { x, y }: Point): Point {
  const [dx, dy] = [x - planOrigin.x, y - planOrigin.y]
  const [cos, sin] = [Math.cos(-angleRad), Math.sin(-angleRad)]
  return { x: scaleX * (dx * cos - dy * sin) + pageOrigin.x, y: scaleY * (dx * sin + dy * cos) + pageOrigin.y }
}

/** Where the windows of two sheets lie on each other, on the page of each; null: nowhere. */
function shared(a: Sheet, b: Sheet): { readonly a: Box; readonly b: Box } | null {
  const place = { x: 0, y: 0 }
  const [onA, onB] = [onPage(a, place), onPage(b, place)]
  const [dx, dy] = [onA.x - onB.x, onA.y - onB.y]
  const box = {
    minX: Math.max(a.window.minX, b.window.minX + dx),
    minY: Math.max(a.window.minY, b.window.minY + dy),
    maxX: Math.min(a.window.maxX, b.window.maxX + dx),
    maxY: Math.min(a.window.maxY, b.window.maxY + dy),
  }
  if (box.maxX - box.minX < 5 || box.maxY - box.minY < 5) return null
  return { a: box, b: { minX: box.minX - dx, minY: box.minY - dy, maxX: box.maxX - dx, maxY: box.maxY - dy } }
}

/** Two pages as pictures, laid on each other: dark dots of each, and those that the other has none within a dot of. */
async function overlaid(
  a: Sheet,
  b: Sheet,
  boxes: { readonly a: Box; readonly b: Box },
): Promise<{ readonly dark: number; readonly alone: number }> {
  const page = await browser.newPage()
  try {
    return await page.evaluate(
      async ([left, right, px]) => {
        const dots = async ({
          svg,
          box,
          height,
        }: typeof left): Promise<{ readonly at: Uint8Array; readonly w: number; readonly h: number }> => {
          const image = new Image()
          image.src = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
          await image.decode()
          const [w, h] = [Math.round((box.maxX - box.minX) * px), Math.round((box.maxY - box.minY) * px)]
          const canvas = document.createElement('canvas')
          canvas.width = w
          canvas.height = h
          const context = canvas.getContext('2d')
          if (context === null) throw new Error('no canvas')
          context.fillStyle = '#fff'
          context.fillRect(0, 0, w, h)
          // The picture's own pixels count from the upper left; it is drawn so that the box fills the canvas.
          context.drawImage(
            image,
            -box.minX * px,
            -(height - box.maxY) * px,
            (image.naturalWidth * px * 25.4) / 96,
            (image.naturalHeight * px * 25.4) / 96,
          )
          const { data } = context.getImageData(0, 0, w, h)
          return { at: Uint8Array.from({ length: w * h }, (_, i) => ((data[4 * i] ?? 255) < 150 ? 1 : 0)), w, h }
        }
        const [one, other] = [await dots(left), await dots(right)]
        let [dark, alone] = [0, 0]
        for (const [from, to] of [
          [one, other],
          [other, one],
        ] as const) {
          for (let y = 2; y < from.h - 2; y++) {
            for (let x = 2; x < from.w - 2; x++) {
              if (from.at[y * from.w + x] !== 1) continue
              dark++
              let isMet = false
              for (let dy = -1; dy <= 1; dy++) for (let dx = -1; dx <= 1; dx++) isMet ||= to.at[(y + dy) * to.w + x + dx] === 1
              if (!isMet) alone++
            }
          }
        }
        return { dark, alone }
      },
      [
        { svg: svgFromSheet(linesOf(a)), box: boxes.a, height: a.paper.heightMm },
        { svg: svgFromSheet(linesOf(b)), box: boxes.b, height: b.paper.heightMm },
        PX_PER_MM,
      ] as const,
    )
  } finally {
    await page.close()
  }
}

const bent = aTrack({
  corners: [aCorner({ x: 1200, y: 0, radius: 762, easementIn: 381, easementOut: 304.8 })],
  end: { kind: 'free', x: 1800, y: 1100 },
})
const sheetsOf = (kind: 'turnout' | 'track'): readonly Sheet[] => {
  const plan = planWith({ tracks: [bent], turnouts: [aTurnout({ stationMm: 300, frog: 9 })] })
  const set = sheetsForSubject(pipelineCreate().derive(plan), kind === 'turnout' ? { kind, id: 'turnout-1' } : { kind, id: 'track-1' }, {
    paper: aPaper('letter'),
    marginMm: 10,
    overlapMm: 14,
    calibrationX: 1,
    calibrationY: 1,
    units: 'imperial',
    date: '2026-11-26',
  })
  return set.sheets.filter((sheet) => sheet.kind === 'full-size')
}

describe('neighbouring pages laid on each other at their match marks', () => {
  it.each(['turnout', 'track'] as const)('of a %s: rails and ties go on', async (kind) => {
    const sheets = sheetsOf(kind)
    const pairs = sheets.flatMap((a, i) =>
      sheets.slice(i + 1).flatMap((b) => {
        const boxes = shared(a, b)
        return boxes === null ? [] : [{ a, b, boxes }]
      }),
    )
    expect(pairs.length).toBeGreaterThan(0)
    let seen = 0
    for (const { a, b, boxes } of pairs) {
      const { dark, alone } = await overlaid(a, b, boxes)
      seen += dark
      expect(alone, `${a.name} on ${b.name}: of ${dark} dark dots`).toBeLessThanOrEqual(0.002 * dark)
    }
    expect(seen).toBeGreaterThan(1000)
  })

  it('sees a page that lies a third of a millimetre off', async () => {
    const [a, b] = sheetsOf('turnout')
    const boxes = a === undefined || b === undefined ? null : shared(a, b)
    if (a === undefined || b === undefined || boxes === null) throw new Error('no neighbours')
    const { minX, minY, maxX, maxY } = boxes.b
    const { dark, alone } = await overlaid(a, b, { a: boxes.a, b: { minX: minX, minY: minY + 0.35, maxX: maxX, maxY: maxY + 0.35 } })
    expect(alone).toBeGreaterThan(0.02 * dark)
  })
})
