import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'
import { aTraverse, solvedPath, surveyed } from '../support/tracing.ts'

const browser = await journeysBrowser()

/** A curve that was built by eye is measured, and the plan learns it: from a file, with a point or two pointed at, fitted in the worker. */
it('fits a line to measured points and lays it as a track', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  const right = page.getByRole('complementary', { name: 'Particulars' })
  await desk.menu('File', /^New room/)
  await desk.button('Begin the new room')
  await desk.stage('Line')
  await desk.button('Fit to measured points…')

  // A straight, a curve of 600 mm with easements, a straight: measured to half a millimetre, one place misread by inches.
  const path = solvedPath(aTraverse([200, 300], [[1500, 300, 600, 200, 200]], [1500, 1500]))
  const { points, gross } = surveyed(path, 40, 0.5, 60, 3)
  const rows = points.map(({ x, y }) => `${x.toFixed(2)};${y.toFixed(2)}`)
  const file = { name: 'yard.csv', mimeType: 'text/csv', buffer: Buffer.from(['x_mm;y_mm', ...rows].join('\n')) }
  await right.getByLabel('File of measured points').setInputFiles(file)
  await right.getByRole('textbox', { name: 'Tolerance' }).fill('2 mm')
  await right.getByRole('textbox', { name: 'Tolerance' }).press('Enter')
  await right.getByText('Worst', { exact: true }).waitFor({ timeout: 60_000 })
  for (const index of gross) expect(await right.getByRole('checkbox', { name: `Point ${index + 1} counts` }).isChecked()).toBe(false)
  expect(await page.locator('.survey-cross').first().getAttribute('d')).toMatch(/^M/)

  // Pointed at on the plan, and taken back there.
  await desk.button('Point at them')
  await desk.clickAt(1500, 1560)
  await right.getByRole('heading', { name: '41 points' }).waitFor()
  await page.keyboard.press('Backspace')
  await right.getByRole('heading', { name: '40 points' }).waitFor()
  await page.keyboard.press('Enter')

  // Shut and opened again, the points are still there.
  await right.getByRole('button', { name: 'Close', exact: true }).click()
  await desk.button('Fit to measured points…')
  await right.getByRole('button', { name: 'Lay it as a track' }).click()
  await right.getByRole('heading', { name: 'Track 1' }).waitFor()
  const [track] = Object.values((await desk.savedPlan()).tracks)
  expect(track?.corners).toHaveLength(1)
  // 40 places of 0.5 mm along half a metre of curve see a radius of 600 mm to a per cent or so.
  expect(Math.abs(Number(track?.corners[0]?.radius) - 600)).toBeLessThan(12)
  await page.keyboard.press('Control+z')
  expect(Object.keys((await desk.savedPlan()).tracks)).toEqual([])
  expectNoErrors(desk)
})

/** A list of points is let fall on the plan: it begins a fit; a second one, while the fit is open, adds to it; what is none is told. */
it('takes a list of points that is dropped on the page', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  const right = page.getByRole('complementary', { name: 'Particulars' })
  const drop = (name: string, text: string): Promise<void> =>
    page.locator('.table').evaluate(
      (table, [fileName, content]) => {
        const dataTransfer = new DataTransfer()
        dataTransfer.items.add(new File([content], fileName, { type: 'text/csv' }))
        table.dispatchEvent(new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }))
      },
      [name, text] as const,
    )
  await drop('siding.csv', ['x_mm;y_mm', '0;0', '300;0', '600;2', '900;30'].join('\n'))
  await right.getByRole('heading', { name: '4 points' }).waitFor()
  await drop('more.csv', ['x_mm;y_mm', '1200;100'].join('\n'))
  await right.getByRole('heading', { name: '5 points' }).waitFor()
  await drop('song.csv', 'do;re;mi')
  await page.getByText('song.csv holds no line that is a point.').waitFor()
  await right.getByRole('heading', { name: '5 points' }).waitFor()
  expectNoErrors(desk)
})
