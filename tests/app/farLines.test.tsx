import '@testing-library/jest-dom/vitest'
import { act, cleanup } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import type { Plan, Track } from '../../src/core/plan/types.ts'
import { aTrack, planWith } from '../support/plans.ts'
import { renderOnDesk } from './desk.tsx'

const size = { width: 800, height: 600 }

/** More tracks than are drawn as shapes, each a straight of its own in rows. */
const count = 420
const straight = (i: number): Track => {
  const [x, y] = [(i % 20) * 900, Math.floor(i / 20) * 400]
  return aTrack({ id: `track-${i}`, name: `Road ${i}`, start: { kind: 'free', x, y }, end: { kind: 'free', x: x + 600, y: y + 90 } })
}
const plan: Plan = planWith({ tracks: Array.from({ length: count }, (_, i) => straight(i)) })

/** A sheet of whole pixels that is drawn on as on a real one: what is wiped is gone, and nothing gets out of a clip. */
class Sheet {
  readonly inked = new Set<string>()
  /** Boxes that were wiped since they were last asked for, and lines begun. */
  wiped: (readonly [left: number, top: number, width: number, height: number])[] = []
  begun = 0
  strokeStyle = ''
  lineJoin = ''
  lineWidth = 1
  #lines: [number, number][][] = []
  #rect: readonly number[] | null = null
  #clip: readonly number[] | null = null

  clearRect(left: number, top: number, width: number, height: number): void {
    this.wiped.push([left, top, width, height])
    for (const one of this.inked) {
      const [x = 0, y = 0] = one.split(' ').map(Number)
      if (x >= left && x < left + width && y >= top && y < top + height) this.inked.delete(one)
    }
  }
  beginPath(): void {
    this.#lines = []
    this.#rect = null
  }
  rect(...box: number[]): void {
    this.#rect = box
  }
  clip(): void {
    this.#clip = this.#rect
  }
  save(): void {}
  restore(): void {
    this.#clip = null
  }
  moveTo(x: number, y: number): void {
    this.begun++
    this.#lines.push([[x, y]])
  }
  lineTo(x: number, y: number): void {
    this.#lines.at(-1)?.push([x, y])
  }
  stroke(): void {
    for (const line of this.#lines)
      for (const [i, [x, y]] of line.entries()) {
        const [toX, toY] = line[i + 1] ?? [x, y]
        const steps = Math.max(1, Math.ceil(2 * Math.hypot(toX - x, toY - y)))
        for (let k = 0; k <= steps; k++) this.#ink(Math.floor(x + ((toX - x) * k) / steps), Math.floor(y + ((toY - y) * k) / steps))
      }
  }
  #ink(x: number, y: number): void {
    const [left = -Infinity, top = -Infinity, width = Infinity, height = Infinity] = this.#clip ?? []
    if (x >= left && y >= top && (this.#clip === null || (x < left + width && y < top + height))) this.inked.add(`${x} ${y}`)
  }
  /** What has been done since it was last asked. */
  since(): { readonly wiped: Sheet['wiped']; readonly begun: number } {
    const done = { wiped: this.wiped, begun: this.begun }
    this.wiped = []
    this.begun = 0
    return done
  }
}

let sheet = new Sheet()
beforeEach(() => {
  sheet = new Sheet()
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockReturnValue(DOMRect.fromRect(size))
  vi.spyOn(HTMLCanvasElement.prototype, 'getContext').mockImplementation(() => sheet as unknown as GPUCanvasContext)
})
afterEach(() => {
  cleanup()
  delete document.documentElement.dataset['theme']
  vi.restoreAllMocks()
})

function desk(of: Plan = plan) {
  const { stores } = renderOnDesk(<Canvas />, of)
  const move = (id: string, x: number, y: number): void =>
    act(() => {
      stores.plan.getState().apply({ kind: 'track.setStart', id, start: { kind: 'free', x, y } })
    })
  return { stores, move }
}

/** The same plan as it is painted on a sheet of its own, at the view of this one. */
function paintedAnew(stores: ReturnType<typeof desk>['stores']): ReadonlySet<string> {
  const { viewport } = stores.session.getState()
  const now = stores.plan.getState().plan
  cleanup()
  sheet = new Sheet()
  const fresh = desk(now)
  act(() => fresh.stores.session.getState().setViewport(viewport))
  return sheet.inked
}

const canvas = (): HTMLCanvasElement => {
  const found = document.querySelector<HTMLCanvasElement>('canvas.far-lines')
  if (found === null) throw new Error('many tracks from afar are a picture')
  return found
}

describe('the lines of many tracks from afar', () => {
  it('are painted once, and again only where one was and is; the picture is what it would be if painted anew', () => {
    const { stores, move } = desk()
    const whole = sheet.since()
    expect(whole.begun).toBe(count)
    move('track-210', 9200, 4400)
    const step = sheet.since()
    expect(step.wiped).toHaveLength(1)
    expect(step.begun).toBeLessThan(count / 10)
    const [, , width = 0, height = 0] = step.wiped[0] ?? []
    expect(width * height).toBeLessThan((canvas().width * canvas().height) / 20)
    act(() => void stores.plan.getState().undo())
    act(() => void stores.plan.getState().redo())
    move('track-7', 6500, 300)
    expect(sheet.since().begun).toBeLessThan(count / 5)
    const seen = new Set(sheet.inked)
    expect(seen.size).toBeGreaterThan(count)
    expect(paintedAnew(stores)).toEqual(seen)
  })

  it('are painted anew for another view, another look of the page, and a line that leaves the picture; else never', async () => {
    const { stores, move } = desk()
    sheet.since()
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-3' }))
    act(() => stores.session.getState().setHover({ track: 'track-4', stationMm: 10 }))
    expect(sheet.since()).toEqual({ wiped: [], begun: 0 })
    const { centre, pxPerMm } = stores.session.getState().viewport
    act(() => stores.session.getState().setViewport({ centre: { x: centre.x + 300, y: centre.y }, pxPerMm: pxPerMm * 0.9 }))
    expect(sheet.since().begun).toBe(count)
    await act(async () => {
      document.documentElement.dataset['theme'] = 'dark'
      await Promise.resolve()
    })
    expect(sheet.since().begun).toBe(count)
    const before = canvas().width
    move('track-19', 23_000, 40)
    expect(sheet.since().begun).toBe(count)
    expect(canvas().width).toBeGreaterThan(before)
    const seen = new Set(sheet.inked)
    expect(paintedAnew(stores)).toEqual(seen)
  })
})
