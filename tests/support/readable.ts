import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { AxeResults } from 'axe-core'
import type { Page } from 'playwright-core'

/*
 * What makes a page fit to be read and worked by everyone, measured in a real browser. Each answers with what falls short, in words.
 */

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

/** Rules of WCAG 2.2 A and AA (W3C Recommendation, 2023) with those of 2.0 and 2.1, as axe-core checks them. */
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

/**
 * What axe fetches before it begins. All style sheets, which it would read anew each time, are for one rule alone (css-orientation-lock), which
 * is still on trial there and is in none of the tags' runs.
 */
const preload = { assets: ['media'] }

/** Breaches of all rules; of those that hang on the colours alone where `isColour`. `within`: the part that is looked at. */
export async function breaches(page: Page, { isColour = false, within = 'html' } = {}): Promise<readonly string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe)
  return page.evaluate(
    async ([place, run, first]) => {
      const { axe: own } = globalThis as unknown as { axe: { run(place: string, options: unknown): Promise<AxeResults> } }
      const { violations } = await own.run(place, { runOnly: run, preload: first, resultTypes: ['violations'] })
      return violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target.join(' ')}`))
    },
    [within, isColour ? { type: 'rule', values: ['color-contrast'] } : { type: 'tag', values: tags }, preload] as const,
  )
}

/**
 * Targets smaller than `px` either way. Excepted are words within a line of text (WCAG 2.2, 2.5.8 and 2.5.5, "inline") and what has a
 * label about it that is large enough, which is pressed as well.
 */
export function smallTargets(page: Page, px: number): Promise<readonly string[]> {
  return page.evaluate((least) => {
    const targets = document.querySelectorAll<HTMLElement>(
      'button, input, select, textarea, summary, a[href], [role="menuitem"], [role="option"], [role="tab"], [role="slider"]',
    )
    const isSmall = ({ width, height }: DOMRect): boolean => width < least - 0.5 || height < least - 0.5
    const isInText = (one: HTMLElement): boolean =>
      getComputedStyle(one).display.startsWith('inline') &&
      [...(one.parentElement?.childNodes ?? [])].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent?.trim() !== '')
    return [...targets].flatMap((one) => {
      if (
        !one.checkVisibility({ visibilityProperty: true, opacityProperty: true }) ||
        one.closest('[inert], [aria-hidden="true"]') !== null
      )
        return []
      const box = one.getBoundingClientRect()
      if (box.width <= 1 || !isSmall(box) || isInText(one)) return []
      const label = one.closest('label')
      if (label !== null && !isSmall(label.getBoundingClientRect())) return []
      const name = one.getAttribute('aria-label') ?? (one.textContent || label?.textContent || one.tagName)
      return [
        `${one.tagName.toLowerCase()} "${name.trim().slice(0, 40)}" ${box.width.toFixed(1)} x ${box.height.toFixed(1)} in ${one.parentElement?.className}`,
      ]
    })
  }, px)
}

/**
 * Words and controls that cannot be brought into view: they reach beyond what clips them, or beyond the page, and nothing there scrolls
 * that way; and what scrolls in both directions (WCAG 2.2, 1.4.4 and 1.4.10). Excepted are the canvas, pictures and tables, which are laid
 * out in two directions (1.4.10), and words that are cut with dots and have a title.
 */
export function cutOff(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const found: string[] = []
    const slack = 1.5
    const said = (one: Element): string =>
      `${one.tagName.toLowerCase()}.${one.getAttribute('class') ?? ''} "${(one.textContent ?? '').trim().slice(0, 40)}"`
    const isExcepted = (one: Element): boolean => one.closest('svg, canvas, [aria-hidden="true"]') !== null
    const isOfTable = (one: Element): boolean => one.closest('table, figure, .chart') !== null
    for (const one of document.querySelectorAll<HTMLElement>('body *')) {
      if (isExcepted(one) || !one.checkVisibility({ visibilityProperty: true })) continue
      const style = getComputedStyle(one)
      const scrolls = { x: /auto|scroll/.test(style.overflowX), y: /auto|scroll/.test(style.overflowY) }
      if (
        scrolls.x &&
        scrolls.y &&
        one.scrollWidth > one.clientWidth + slack &&
        one.scrollHeight > one.clientHeight + slack &&
        one.querySelector('table, figure, svg, canvas') === null
      )
        found.push(`scrolls both ways: ${said(one)}`)
      const isWords = [...one.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent?.trim() !== '')
      if (!isWords && !one.matches('input, select, button')) continue
      const box = one.getBoundingClientRect()
      if (box.width <= 1 || box.height <= 1) continue
      const can = { x: false, y: false }
      for (let clip: HTMLElement | null = one; clip !== null; clip = clip.parentElement) {
        const own = getComputedStyle(clip)
        if (clip === one) {
          if (
            own.textOverflow === 'ellipsis' &&
            one.scrollWidth > one.clientWidth + slack &&
            !one.matches('select') &&
            one.closest('[title]') === null
          )
            found.push(`cut with dots and without a title: ${said(one)}`)
          continue
        }
        const edge = clip.getBoundingClientRect()
        // Words for the ear alone.
        if (edge.width <= 1.5 || edge.height <= 1.5) break
        const isPage = clip === document.body
        if (/auto|scroll/.test(own.overflowX)) can.x = true
        if (/auto|scroll/.test(own.overflowY)) can.y = true
        const clipsX = isPage || own.overflowX === 'hidden' || own.overflowX === 'clip'
        const clipsY = isPage || own.overflowY === 'hidden' || own.overflowY === 'clip'
        const dots = own.textOverflow === 'ellipsis'
        if (clipsX && !can.x && !dots && (box.right > edge.right + slack || box.left < edge.left - slack)) {
          found.push(
            `beyond ${said(clip).slice(0, 30)} by ${Math.max(box.right - edge.right, edge.left - box.left).toFixed(0)} px sideways: ${said(one)}`,
          )
          break
        }
        if (clipsY && !can.y && (box.bottom > edge.bottom + slack || box.top < edge.top - slack)) {
          found.push(
            `beyond ${said(clip).slice(0, 30)} by ${Math.max(box.bottom - edge.bottom, edge.top - box.top).toFixed(0)} px up or down: ${said(one)}`,
          )
          break
        }
        if (own.position === 'fixed') break
      }
      if (can.x && !isOfTable(one) && box.width > innerWidth + slack) found.push(`wider than the page: ${said(one)}`)
    }
    return found
  })
}

/** What still moves by itself or by degrees though less motion is asked for. */
export function moving(page: Page): Promise<readonly string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll('body, body *')].flatMap((one) => {
      const { transitionDuration, animationDuration, animationName, scrollBehavior } = getComputedStyle(one)
      const lasts = (durations: string): boolean => durations.split(',').some((text) => Number.parseFloat(text) > 0)
      const isMoving = lasts(transitionDuration) || (animationName !== 'none' && lasts(animationDuration)) || scrollBehavior === 'smooth'
      return isMoving ? [`${one.tagName.toLowerCase()}.${one.getAttribute('class') ?? ''}`] : []
    }),
  )
}

/** What has the focus, in words; null: nothing but the page, which is to have lost it. */
export function focused(page: Page): Promise<string | null> {
  return page.evaluate(() => {
    const one = document.activeElement
    if (one === null || one === document.body) return null
    return `${one.tagName.toLowerCase()} ${one.getAttribute('aria-label') ?? one.textContent?.trim().slice(0, 40) ?? ''}`
  })
}
