import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** A room by tape with a shelf along it, and a photo taken at a slant under both. */
it('types a room as measured, runs a shelf along a wall, and lays a slanted photo of the bench under it', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  await desk.menu('File', /^New room/)
  await desk.button('Begin the new room')
  await desk.button('Type the room as measured')
  const type = async (label: string, text: string): Promise<void> => {
    const field = page.getByLabel(label, { exact: true })
    await field.fill(text)
    await field.press('Enter')
  }
  // A quarter of an inch too long on one side, the first corner by its diagonal, the last left open.
  await type('Corner at the end of side 1', '15ft 8in')
  await type('Length of side 3', "12' 1/4")
  await type('Corner at the end of side 4', '-')
  await expect.poll(() => page.getByRole('status').filter({ hasText: 'Closing error' }).textContent()).toMatch(/1 in \d+ of the way round/)
  await desk.button('Draw these walls')
  await desk.button('Run a shelf along it')
  await desk.button('Add this shelf')
  const built = await desk.savedPlan()
  const [wall] = Object.values(built.walls)
  const [shelf] = Object.values(built.benchworks)
  expect([wall?.points.length, wall?.isClosed, shelf?.outline.length]).toEqual([4, true, 4])

  // A board of eight by four feet, seen at a slant; its corners in pixels are known.
  const photo = await page.evaluate(async () => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 1200, height: 800 })
    const context = canvas.getContext('2d')
    if (context === null) throw new Error('no canvas')
    const seen = (x: number, y: number): readonly [number, number] => {
      const w = 1 + y / 2500
      return [200 + (x * 0.33) / w, 700 - (y * 0.45) / w]
    }
    const corners = [seen(0, 0), seen(2438.4, 0), seen(2438.4, 1219.2), seen(0, 1219.2)]
    context.fillStyle = '#fff'
    context.fillRect(0, 0, 1200, 800)
    context.fillStyle = '#000'
    // Its right half is black: the edge of that in the plan is 1219.2 mm from the first corner, all along.
    context.beginPath()
    for (const [x, y] of [seen(1219.2, 0), seen(2438.4, 0), seen(2438.4, 1219.2), seen(1219.2, 1219.2)]) context.lineTo(x, y)
    context.fill()
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done))
    return { bytes: Array.from(new Uint8Array((await blob?.arrayBuffer()) ?? new ArrayBuffer(0))), corners }
  })
  await desk.button('Lay a picture under the plan')
  const chooser = page.waitForEvent('filechooser')
  await desk.button('Choose a picture…')
  await (await chooser).setFiles({ name: 'bench.png', mimeType: 'image/png', buffer: Buffer.from(photo.bytes) })
  await page.getByLabel('It is').selectOption('four')
  const picture = page.getByRole('img', { name: 'What will lie under the plan' })
  await expect.poll(async () => (await picture.boundingBox())?.width ?? 0).toBeGreaterThan(100)
  const box = (await picture.boundingBox()) ?? { x: 0, y: 0, width: 1, height: 1 }
  for (const [u, v] of photo.corners) await page.mouse.click(box.x + (u / 1200) * box.width, box.y + (v / 800) * box.height)
  await desk.button('Lay it under the plan')
  await page.getByRole('heading', { name: 'Picture 1' }).waitFor()
  await page.locator('.underlays image').waitFor({ state: 'attached' })
  const laid = await desk.savedPlan()
  const [underlay] = Object.values(laid.underlays)
  expect(underlay?.data).toBeNull()
  expect(
    underlay?.places.map(({ at }) => [
      Math.round((at.x - (underlay.places[0]?.at.x ?? 0)) * 10) / 10,
      Math.round((at.y - (underlay.places[0]?.at.y ?? 0)) * 10) / 10,
    ]),
  ).toEqual([
    [0, 0],
    [2438.4, 0],
    [2438.4, 1219.2],
    [0, 1219.2],
  ])
  // What is shown is square again: along two rows of the board black begins in the same column, half way.
  const edges = await page.evaluate(async () => {
    const address = document.querySelector('.underlays image')?.getAttribute('href') ?? ''
    const image = await createImageBitmap(await (await fetch(address)).blob())
    const canvas = Object.assign(document.createElement('canvas'), { width: image.width, height: image.height })
    const context = canvas.getContext('2d')
    context?.drawImage(image, 0, 0)
    return [0.35, 0.65].map((share) => {
      const row = context?.getImageData(0, Math.round(image.height * share), image.width, 1).data ?? new Uint8ClampedArray()
      for (let x = 0; x < image.width; x++) if (row[4 * x + 3] === 255 && (row[4 * x] ?? 255) < 128) return x / image.width
      return NaN
    })
  })
  for (const edge of edges) expect(edge).toBeCloseTo(0.5, 2)

  await desk.button('Carry it in the plan file')
  await desk.button('Keep it out of the plan file')
  await page.reload()
  await page.locator('.underlays image').waitFor({ state: 'attached' })
  expectNoErrors(desk)
})
