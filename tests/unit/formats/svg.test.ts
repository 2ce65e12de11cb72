// @vitest-environment jsdom
import { describe, expect, it } from 'vitest'
import type { Sheet } from '../../../src/core/deliver/index.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'

const sheet: Sheet = {
  kind: 'full-size',
  name: 'A1',
  title: 'Track <Quay> & "Dock"',
  paper: { name: 'Letter', widthMm: 215.9, heightMm: 279.4 },
  window: { minX: 20, minY: 40, maxX: 205.9, maxY: 269.4 },
  toPage: { planOrigin: { x: 0, y: 0 }, angleRad: 0, pageOrigin: { x: 20, y: 40 }, scaleX: 1, scaleY: 1 },
  items: [
    {
      kind: 'stroke',
      layer: 'rail-head',
      role: 'rail-head',
      start: { x: 30, y: 50 },
      segments: [
        { kind: 'line', to: { x: 40, y: 50 } },
        { kind: 'line', to: { x: 40, y: 51 } },
      ],
      isClosed: true,
      fill: 0.25,
    },
    {
      kind: 'stroke',
      layer: 'centreline',
      role: 'centreline',
      start: { x: 1.23456, y: 279.4 },
      segments: [{ kind: 'cubic', c1: { x: 2, y: 200 }, c2: { x: 3, y: 200 }, to: { x: 4, y: 0 } }],
      isClosed: false,
      fill: null,
    },
    {
      kind: 'text',
      layer: 'sheet',
      at: { x: 10, y: 20 },
      text: 'TS 3′ 5⅜″ <&>',
      sizeMm: 3,
      angleRad: Math.PI / 2,
      anchor: 'end',
      weight: 'bold',
      grey: 0,
    },
  ],
}

describe('svgFromSheet', () => {
  const root = new DOMParser().parseFromString(svgFromSheet(sheet), 'image/svg+xml').documentElement

  it('is well-formed and of the paper’s true size, a unit to the millimetre', () => {
    expect(root.nodeName).toBe('svg')
    expect(root.getAttribute('width')).toBe('215.9mm')
    expect(root.getAttribute('height')).toBe('279.4mm')
    expect(root.getAttribute('viewBox')).toBe('0 0 215.9 279.4')
    expect(root.querySelector('title')?.textContent).toBe('Track <Quay> & "Dock", sheet A1')
  })

  it('counts y downwards and rounds to a thousandth', () => {
    expect(root.querySelector('[data-role="centreline"]')?.getAttribute('d')).toBe('M1.235 0C2 79.4 3 79.4 4 279.4')
  })

  it('has a group for each layer in use, clipped to the window unless it is the sheet itself', () => {
    const groups = [...root.querySelectorAll('g')].map((group) => [group.getAttribute('data-layer'), group.hasAttribute('clip-path')])
    expect(groups).toEqual([
      ['rail-head', true],
      ['centreline', true],
      ['sheet', false],
    ])
    const rect = root.querySelector('clipPath rect')
    expect(['x', 'y', 'width', 'height'].map((name) => rect?.getAttribute(name))).toEqual(['20', '10', '185.9', '229.4'])
  })

  it('fills heads without a line round them and turns texts about their anchor', () => {
    const head = root.querySelector('[data-role="rail-head"]')
    expect(head?.getAttribute('fill')).toBe('#404040')
    expect(head?.hasAttribute('stroke')).toBe(false)
    const text = root.querySelector('text')
    expect(text?.textContent).toBe('TS 3′ 5⅜″ <&>')
    expect(text?.getAttribute('transform')).toBe('rotate(-90 10 259.4)')
    expect(text?.getAttribute('text-anchor')).toBe('end')
  })
})
