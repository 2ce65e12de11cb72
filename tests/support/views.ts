import type { Locator } from 'playwright-core'
import type { Desk } from './desk.ts'

/** A view that the desk can show, and the way to it from the desk as it is opened. */
export interface DeskView {
  readonly name: string
  /** The word for it among the dialogs of App.tsx, where it is one of them. */
  readonly dialog?: string
  open(desk: Desk): Promise<unknown>
}

/** The stages, and the lists of one that lie over the table. */
export const stageViews: readonly DeskView[] = [
  ...['Room', 'Line', 'Turnouts', 'Roadbed', 'Track', 'Checks', 'Sheets'].map(
    (word): DeskView => ({
      name: word,
      async open(desk) {
        await desk.stage(word)
        if (word === 'Sheets') await desk.page.locator('.page-paper').first().waitFor()
      },
    }),
  ),
  {
    name: 'Lists',
    async open(desk) {
      await desk.stage('Track')
      await desk.button('Show the lists')
      await desk.page.locator('.stick').first().waitFor()
    },
  },
]

/** By the finder, as one goes who knows the word. */
export async function find(desk: Desk, words: string): Promise<void> {
  const { page } = desk
  await page.keyboard.press('Control+k')
  const field = page.getByRole('searchbox', { name: 'Find any action' })
  await field.fill(words)
  const items = page.getByRole('menu', { name: 'Actions' }).getByRole('menuitem')
  await items.first().waitFor()
  await page.keyboard.press('Enter')
  await field.waitFor({ state: 'detached' })
}

const sheet = (desk: Desk): Promise<void> => desk.page.getByRole('dialog').first().waitFor()

async function pictureChosen(desk: Desk): Promise<void> {
  const pixels = await desk.page.evaluate(async () => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 300, height: 200 })
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done))
    return Array.from(new Uint8Array((await blob?.arrayBuffer()) ?? new ArrayBuffer(0)))
  })
  const chooser = desk.page.waitForEvent('filechooser')
  await desk.button('Choose a picture…')
  await (await chooser).setFiles({ name: 'bench.png', mimeType: 'image/png', buffer: Buffer.from(pixels) })
  await desk.page.getByRole('img', { name: 'What will lie under the plan' }).waitFor()
}

/** Two lines and a closed outline, as text: what a drawing program would hand over. */
const drawing =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 900 600" width="900mm" height="600mm"><g id="wood"><path d="M0 0H800V500H0Z"/></g></svg>'

async function drawingChosen(desk: Desk): Promise<void> {
  const chooser = desk.page.waitForEvent('filechooser')
  await find(desk, 'Take in a drawing')
  await (await chooser).setFiles({ name: 'shed.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(drawing) })
  await sheet(desk)
}

const byFinder = (dialog: string, words: string, ready: (desk: Desk) => Promise<unknown> = sheet): DeskView => ({
  name: words,
  dialog,
  async open(desk) {
    await find(desk, words)
    await ready(desk)
  },
})

/** What stands beside the plan, opened by the finder; `of`: what is selected first. */
const panel = (words: string, of: string | null, stage: string = 'Line'): DeskView => ({
  name: of === null ? words : `${words}: ${of}`,
  async open(desk) {
    await desk.stage(stage)
    if (of !== null) await find(desk, `Go to ${of}`)
    await find(desk, words)
  },
})

/** Something by name in the lists of a stage. */
const listed = (stage: string, list: string, name: RegExp): DeskView => ({
  name: `${list}: ${name.source}`,
  async open(desk) {
    await desk.stage(stage)
    await desk.page
      .locator('.record-list')
      .filter({ has: desk.page.getByRole('heading', { name: list, exact: true }) })
      .getByRole('button', { name })
      .first()
      .click()
  },
})

/** On a narrow page the drawer covers half of the plan. */
async function drawerDown({ page }: Desk): Promise<void> {
  const up = page.locator('.drawer-words').getByRole('button', { expanded: true })
  if ((await up.count()) > 0 && (await up.isVisible())) await up.click()
}

const onStrip = (name: string): DeskView => ({
  name: `${name} on the plan`,
  async open(desk) {
    await desk.stage('Room')
    await drawerDown(desk)
    await desk.page.getByRole('button', { name, exact: true }).click()
  },
})

const inStage = (stage: string, button: string, dialog?: string): DeskView => ({
  name: button,
  ...(dialog === undefined ? {} : { dialog }),
  async open(desk) {
    await desk.stage(stage)
    await desk.button(button)
    await sheet(desk)
  },
})

/** A sheet about something that is gone to first. */
const ofRecord = (stage: string, name: string, button: string): DeskView => ({
  name: button,
  async open(desk) {
    await desk.stage(stage)
    await find(desk, `Go to ${name}`)
    await desk.button(button)
    await sheet(desk)
  },
})

const unfold = (desk: Desk, words: string): Promise<void> => desk.page.locator('summary', { hasText: words }).first().click()

/** Two clicks on the plan, away from what lies round the middle. */
async function twoPlaces({ page }: Desk): Promise<void> {
  const box = await page.getByRole('application').boundingBox()
  if (box === null) throw new Error('The plan is not on the screen.')
  for (const share of [0.4, 0.6]) {
    await page.mouse.click(box.x + box.width * share, box.y + box.height * 0.45)
    await page.waitForTimeout(30)
  }
}

/** Every sheet of words that lies over the desk. */
export const dialogViews: readonly DeskView[] = [
  {
    name: 'Find any action',
    dialog: 'finder',
    async open(desk) {
      await desk.page.keyboard.press('Control+k')
      await desk.page.getByRole('menu', { name: 'Actions' }).waitFor()
    },
  },
  byFinder('newRoom', 'New room'),
  byFinder('export', 'Save for other programs'),
  { name: 'Take in a drawing', dialog: 'import', open: drawingChosen },
  byFinder('gallery', 'Gallery of turnouts', (desk) => desk.page.locator('.gallery-paper svg').first().waitFor()),
  byFinder('keys', 'Keys…'),
  byFinder('jigs', 'Jigs to print', (desk) => desk.page.locator('.jig-picture[aria-busy="false"]').waitFor()),
  byFinder('share', 'The plan as a link'),
  {
    name: 'A plan by a link',
    dialog: 'shared',
    async open(desk) {
      const { page } = desk
      await find(desk, 'The plan as a link')
      const link = await page.getByRole('dialog').getByRole('textbox').inputValue()
      await page.goto(link)
      await page.reload()
      await page.getByRole('heading', { name: /came with this link/ }).waitFor()
    },
  },
  byFinder('steps', 'Steps taken'),
  byFinder('shelf', 'Plans in this browser'),
  {
    name: 'Two plans compared',
    async open(desk) {
      const { page } = desk
      await find(desk, 'Plans in this browser')
      await desk.button('Duplicate')
      await page.locator('.plans li').nth(1).waitFor()
      await page.keyboard.press('Escape')
      await find(desk, 'Add a track in the middle')
      await find(desk, 'Plans in this browser')
      await desk.button('Compare')
      await page.locator('.compare').waitFor()
    },
  },
  {
    name: 'Earlier versions',
    async open(desk) {
      await find(desk, 'Plans in this browser')
      await desk.button('Versions')
      await desk.page.getByRole('heading', { name: /earlier versions/ }).waitFor()
    },
  },
  inStage('Room', 'Type the room as measured', 'roomMeasured'),
  {
    ...inStage('Room', 'Lay a picture under the plan', 'underlay'),
    async open(desk) {
      await desk.stage('Room')
      await desk.button('Lay a picture under the plan')
      await pictureChosen(desk)
    },
  },
  ofRecord('Line', 'Coal drop', 'Set out at the bench'),
  ofRecord('Turnouts', 'Siding south', 'Build it'),
]

const wall = listed('Room', 'Walls', /./)

/** Columns of fields like those of the panels: in each look they are looked at too, for the finger's size those of the panels stand for them. */
export const fieldViews: readonly DeskView[] = [
  panel('Railway: scale', null),
  panel('Rules of laying', null, 'Track'),
  listed('Line', 'Cars and engines', /./),
  listed('Turnouts', 'Crossings', /./),
  listed('Roadbed', 'Materials', /./),
  listed('Turnouts', 'Makers', /./),
]

/** What stands beside the plan or on it: particulars of every kind, panels that take their place, and tools in hand. */
export const panelViews: readonly DeskView[] = [
  listed('Room', 'Benchwork', /./),
  listed('Line', 'Tracks', /^Main/),
  {
    name: 'A line class, how its rules are told',
    async open(desk) {
      await listed('Line', 'Line classes', /^Main/).open(desk)
      await unfold(desk, 'How rules are told')
    },
  },
  panel('Lay a parallel beside', 'Coal drop'),
  panel('Ease this line', 'Coal drop'),
  panel('Cut, lengthen', 'Coal drop'),
  panel('Join this end', 'Siding south'),
  panel('Lay a parallel from the leg', 'Ice house'),
  panel('Fit a line to measured points', null),
  panel('Make a yard', null),
  panel('Place a turnout', null, 'Turnouts'),
  panel('Make a door, passage or window', null, 'Room'),
  panel('Choose all tracks', null),
  {
    name: 'Bands and a train, a car of own sizes, a corner',
    async open(desk) {
      await find(desk, 'Show swept bands')
      await find(desk, 'Push a car')
      await desk.stage('Line')
      await desk.button('Add a car or engine…')
      await desk.page.getByRole('region', { name: 'A car or engine by its kind' }).getByRole('combobox').first().selectOption('own-car')
      await desk.button('Add it')
      await find(desk, 'Go to Coal drop')
      await find(desk, 'Add a corner to this track')
    },
  },
  {
    name: 'A pinned reading and a guide, another reading taken',
    async open(desk) {
      await desk.stage('Line')
      await find(desk, 'Lay a guide')
      await drawerDown(desk)
      await twoPlaces(desk)
      await desk.page.getByRole('button', { name: 'Measure', exact: true }).click()
      await twoPlaces(desk)
      await desk.button('Keep it')
      await find(desk, 'Go to Measurement')
      await find(desk, 'Measure')
    },
  },
  {
    name: 'A table by its size',
    async open(desk) {
      await desk.stage('Room')
      await desk.button('Add a table by its size')
    },
  },
  {
    name: 'A shelf along a wall',
    async open(desk) {
      await wall.open(desk)
      await desk.button('Run a shelf along it')
      await desk.page.getByRole('combobox', { name: 'Inner corner' }).selectOption('eased')
    },
  },
  {
    name: 'A U by its sizes, in a corner of the room',
    async open(desk) {
      await desk.stage('Room')
      await desk.button('Add an L or a U by its sizes')
      await desk.page.getByRole('combobox', { name: 'Shape' }).selectOption('U')
      await desk.page.getByRole('combobox', { name: 'Inner corner' }).selectOption('cut')
    },
  },
  {
    name: 'An L that is pointed to its place',
    async open(desk) {
      await desk.stage('Room')
      await desk.button('Add an L or a U by its sizes')
      // The form keeps what was chosen in it last.
      await desk.page.getByRole('combobox', { name: 'Shape' }).selectOption('L')
      await desk.page.getByRole('combobox', { name: 'Stands' }).selectOption('pointed')
      await desk.button('Point at its corner')
      await desk.page.getByRole('group', { name: 'Where the L-table stands' }).waitFor()
    },
  },
  {
    name: 'All that can be done about findings, a report, what fits at a turnout',
    async open(desk) {
      const { page } = desk
      await find(desk, 'Go to Siding south')
      await desk.button('What fits here')
      await page.getByRole('table', { name: 'Frog numbers that fit here' }).waitFor()
      await unfold(desk, 'What these numbers mean')
      await page.locator('.explained dd').first().waitFor()
      await desk.stage('Checks')
      const words = (kind: string): Locator => page.locator(`.stage-body [data-panel="${kind}"]`)
      await words('silence').first().click()
      await words('rule').nth(1).click()
      await words('cure').last().click()
      await page.locator('.finding-panel [type="submit"]').click()
      await desk.button('Report as CSV')
      await page.getByRole('status').filter({ hasText: 'csv' }).waitFor()
    },
  },
  {
    name: 'What is drawn on the sheets, an end of a track',
    async open(desk) {
      await find(desk, 'Go to Coal drop')
      await desk.button('The end: its place')
      await desk.stage('Sheets')
      await unfold(desk, 'What is drawn')
    },
  },
  {
    name: 'Joints by the rules, a stock',
    async open(desk) {
      await listed('Track', 'On the shelf and in the shop', /./).open(desk)
      await desk.stage('Track')
      await unfold(desk, 'Joints by the rules')
    },
  },
  panel('Make a helix', null),
  {
    name: 'File',
    async open(desk) {
      await desk.button('File')
      await desk.page.getByRole('menu', { name: 'File' }).waitFor()
    },
  },
  onStrip('In sight'),
  {
    name: 'what can be done at a place',
    async open(desk) {
      await drawerDown(desk)
      await desk.page.getByRole('application').click({ button: 'right' })
      await desk.page.getByRole('menu').waitFor()
    },
  },
  onStrip('Frame'),
]

/** Lays down what is at hand: sheets, tools, panels, the selection, in that order; and what lies over the table. */
export async function calm(desk: Desk): Promise<void> {
  const { page } = desk
  // The finder empties its field first.
  for (let press = 0; press < 3 && (await page.getByRole('dialog').count()) > 0; press++) await page.keyboard.press('Escape')
  await page.getByRole('dialog').first().waitFor({ state: 'detached' })
  const sight = page.getByRole('group', { name: 'In sight' }).getByRole('button', { name: 'Close' })
  if ((await sight.count()) > 0) await sight.click()
  const strips = page.getByRole('button', { name: 'Put away' })
  while ((await strips.count()) > 0) await strips.first().click()
  const lists = page.getByRole('button', { name: 'Back to the plan' })
  if ((await lists.count()) > 0) await lists.click()
  await page.locator('main').focus()
  for (let press = 0; press < 4; press++) await page.keyboard.press('Escape')
}
