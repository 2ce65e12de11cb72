import type { PlanCommand } from '../core/edit/types.ts'
import { makerHosts, recordFind, tableNames } from '../core/plan/index.ts'
import type {
  Corner,
  Crossing,
  Id,
  LineClass,
  Plan,
  PlanTables,
  Railway,
  TableName,
  Track,
  TrackEnd,
  TrackStart,
  Turnout,
} from '../core/plan/types.ts'
import { nameRead, tableWord } from './names.ts'

// The one place where steps get their words. English of the workshop; read in the undo list and spoken by screen readers.

const railwayWords: { readonly [K in keyof Railway]: string } = {
  title: 'title',
  northRad: 'north',
  scaleKey: 'scale',
  ratio: 'scale ratio',
  gaugeMm: 'gauge',
  flangewayMm: 'flangeway',
  checkGaugeMm: 'check gauge',
  railCode: 'rail code',
  railHeadMm: 'rail head width',
  railFootMm: 'rail foot width',
  frogDefinition: 'frog number definition',
  tieLengthMm: 'tie length',
  tieWidthMm: 'tie width',
  tieThicknessMm: 'tie thickness',
  edgeMarginMm: 'edge margin',
  runningClearanceMm: 'running clearance',
  foulingMm: 'fouling separation',
  reachMm: 'reach',
  aisleMm: 'narrowest aisle',
  hatchMm: 'least side of a hatch',
  laying: 'rules of laying',
}

const lineClassWords: { readonly [K in keyof Omit<LineClass, 'id'>]: string } = {
  name: 'name',
  minRadiusMm: 'minimum radius',
  usualRadiusMm: 'usual radius',
  easement: 'easement rule',
  minFrog: 'minimum frog number',
  usualFrog: 'usual frog number',
  trackCentresMm: 'track centres',
  tieSpacingMm: 'tie spacing',
  maxGrade: 'maximum grade',
  cars: 'worst cars',
  minCurveMm: 'shortest curve',
  widening: 'gauge widening',
  rules: 'rules of the checks',
  curveCarLengths: 'car lengths of a curve',
  couplingCarLengths: 'car lengths for coupling',
  rail: 'rail',
  tie: 'ties',
  jointTieSpacingMm: 'tie spacing at joints',
  roadbed: 'roadbed',
  superelevationMm: 'superelevation',
}

const cornerWords: { readonly [K in keyof Omit<Corner, 'id' | 'x' | 'y'>]: string } = {
  radius: 'radius',
  easementIn: 'easement in',
  easementOut: 'easement out',
}

const turnoutWords: { readonly [K in keyof Omit<Turnout, 'id'>]: string } = {
  name: 'name',
  kind: 'kind',
  track: 'track',
  stationMm: 'station',
  facing: 'facing',
  hand: 'hand',
  frog: 'frog number',
  build: 'build',
}

const crossingWords: { readonly [K in keyof Omit<Crossing, 'id'>]: string } = {
  name: 'name',
  track: 'track',
  other: 'track',
  stationMm: 'station',
  otherStationMm: 'station',
  slip: 'slips',
  build: 'build',
}

/**
 * What a command does, in words for the undo list: "Set radius at PI 2 of Main".
 * Domain: a command for this plan, before it is applied; records it names that are not there are called by their ids.
 */
export function editLabel(command: PlanCommand, plan: Plan): string {
  const name = (table: TableName, id: Id): string => recordName(plan, table, id)
  switch (command.kind) {
    case 'railway.set':
      return railwayWordsOf(command.change)
    case 'material.add':
    case 'stock.add':
    case 'lineClass.add':
    case 'vehicle.add':
    case 'wall.add':
    case 'obstacle.add':
    case 'benchwork.add':
    case 'opening.add':
    case 'hatch.add':
    case 'joist.add':
    case 'portal.add':
    case 'guide.add':
    case 'reading.add':
    case 'underlay.add':
    case 'track.add':
    case 'turnout.add':
    case 'crossing.add':
      return `Add ${titled(tableWord(addTables[command.kind]), nameRead(command.record.name))}`
    case 'lineClass.set':
      return `Set ${fieldWords(command.change, lineClassWords, 'limits')} of ${name('lineClasses', command.id)}`
    case 'vehicle.set':
    case 'wall.set':
    case 'obstacle.set':
    case 'benchwork.set':
    case 'opening.set':
    case 'hatch.set':
    case 'joist.set':
    case 'portal.set':
    case 'material.set':
    case 'stock.set':
    case 'guide.set':
    case 'reading.set':
    case 'underlay.set':
      return setWords(command.change, name(setTables[command.kind], command.id))
    case 'railJoint.add':
      return 'Place a rail joint'
    case 'railJoint.set':
      return 'Move a rail joint'
    case 'tick.add':
    case 'tick.set':
      return `Tick a piece off as ${command.kind === 'tick.add' ? command.record.done : (command.change.done ?? 'cut')}`
    case 'lock.add':
      return `Lock ${lockedName(plan, command.record)}`
    case 'silence.add':
      return 'Silence a finding'
    case 'silence.set':
      return 'Change why a finding is silenced'
    case 'benchwork.movePoint':
      return `Move point ${command.index + 1} of ${ringName(command.ring)}${name('benchworks', command.id)}`
    case 'benchwork.insertPoint':
      return `Insert point in ${ringName(command.ring)}${name('benchworks', command.id)}`
    case 'benchwork.removePoint':
      return `Remove point ${command.index + 1} of ${ringName(command.ring)}${name('benchworks', command.id)}`
    case 'benchwork.addHole':
      return `Cut hole in ${name('benchworks', command.id)}`
    case 'benchwork.removeHole':
      return `Close hole ${command.hole + 1} of ${name('benchworks', command.id)}`
    case 'track.set':
      if (command.change.name !== undefined) return `Name ${name('tracks', command.id)} ${nameRead(command.change.name)}`
      return `Set line class of ${name('tracks', command.id)}`
    case 'track.setStart':
      return `${endWords(command.start, 'start', plan)} of ${name('tracks', command.id)}`
    case 'track.setEnd':
      return `${endWords(command.end, 'end', plan)} of ${name('tracks', command.id)}`
    case 'corner.insert':
      return `Insert PI ${command.index + 1} in ${name('tracks', command.track)}`
    case 'corner.set':
      return `${cornerAction(command.change)} ${cornerName(plan, command.track, command.corner)}`
    case 'corner.remove':
      return `Remove ${cornerName(plan, command.track, command.corner)}`
    case 'turnout.set':
      return turnoutAction(command.change, name('turnouts', command.id))
    case 'crossing.set':
      return `Set ${fieldWords(command.change, crossingWords, 'particulars')} of ${name('crossings', command.id)}`
    case 'maker.write': {
      const { id, name: title } = command.record
      const before = id === undefined ? null : recordFind(plan, 'makers', id)
      return before === null ? `Make ${makerName(title)}` : `Change ${makerName(before.name)}`
    }
    case 'maker.set':
      return command.change.name === undefined
        ? 'Leave the maker as it is'
        : `Name ${name('makers', command.id)} ${nameRead(command.change.name)}`
    case 'maker.takeApart':
      return `Take ${makerName(recordFind(plan, 'makers', command.id)?.name ?? command.id)} apart`
    case 'remove':
      if (command.table === 'silences') return 'Tell a finding again'
      if (command.table === 'locks') return `Unlock ${lockedName(plan, recordFind(plan, 'locks', command.id))}`
      if (command.table === 'ticks') return 'Take a tick away'
      return `Remove ${removedWords(plan, command.table, command.id)}`
    case 'group':
      return command.label ?? lastLabel(command.commands, plan)
  }
}

/** A record by its name, and what goes with it: "Track 1 and Turnout 1". */
export function removedWords(plan: Plan, table: TableName, id: Id): string {
  const along = goesAlong(plan, table, id)
  return along.length === 0 ? recordName(plan, table, id) : `${recordName(plan, table, id)} and ${along.join(', ')}`
}

/** What a record takes along: a track the makers and turnouts on it, a wall its doors and windows. */
export function goesAlong(plan: Plan, table: TableName, id: Id): readonly string[] {
  const several = (of: 'turnouts' | 'openings', records: readonly { readonly id: Id }[], word: string): readonly string[] => {
    const [only] = records
    if (only === undefined) return []
    return [records.length === 1 ? recordName(plan, of, only.id) : `its ${records.length} ${word}`]
  }
  if (table === 'walls') {
    const openings = Object.values(plan.openings).filter(({ wall }) => wall === id)
    return several('openings', openings, 'doors and windows')
  }
  if (table !== 'tracks') return []
  const makers = Object.values(plan.makers).filter(({ numbers, made }) => makerHosts(numbers).includes(id) && !made.tracks.includes(id))
  const made = new Set(makers.flatMap((maker) => maker.made.turnouts))
  const turnouts = Object.values(plan.turnouts).filter((turnout) => turnout.track === id && !made.has(turnout.id))
  return [...makers.map((maker) => recordName(plan, 'makers', maker.id)), ...several('turnouts', turnouts, 'turnouts')]
}

/** What comes before the last command of such a group only makes way for it. */
function lastLabel(commands: readonly PlanCommand[], plan: Plan): string {
  const last = commands.at(-1)
  return last === undefined ? 'Change nothing' : editLabel(last, plan)
}

/** A maker is called by its name alone: "Crossover 1" says what it is. */
const makerName = (name: string): string => (name.trim() === '' ? 'maker' : nameRead(name))

const addTables = {
  'material.add': 'materials',
  'stock.add': 'stocks',
  'lineClass.add': 'lineClasses',
  'vehicle.add': 'vehicles',
  'wall.add': 'walls',
  'obstacle.add': 'obstacles',
  'benchwork.add': 'benchworks',
  'opening.add': 'openings',
  'hatch.add': 'hatches',
  'joist.add': 'joists',
  'portal.add': 'portals',
  'track.add': 'tracks',
  'turnout.add': 'turnouts',
  'crossing.add': 'crossings',
  'guide.add': 'guides',
  'reading.add': 'readings',
  'underlay.add': 'underlays',
} as const satisfies Partial<Record<PlanCommand['kind'], TableName>>

const setTables = {
  'vehicle.set': 'vehicles',
  'wall.set': 'walls',
  'obstacle.set': 'obstacles',
  'benchwork.set': 'benchworks',
  'opening.set': 'openings',
  'hatch.set': 'hatches',
  'joist.set': 'joists',
  'portal.set': 'portals',
  'material.set': 'materials',
  'stock.set': 'stocks',
  'guide.set': 'guides',
  'reading.set': 'readings',
  'underlay.set': 'underlays',
} as const satisfies Partial<Record<PlanCommand['kind'], TableName>>

type SetRecord = PlanTables[(typeof setTables)[keyof typeof setTables]]
type KeysOf<R> = R extends unknown ? Exclude<keyof R, 'id' | 'name'> : never

/** Where a thing lies. */
const placeKeys: ReadonlySet<string> = new Set<KeysOf<SetRecord>>([
  'points',
  'outline',
  'from',
  'to',
  'at',
  'angleRad',
  'places',
  'fromMm',
  'stationMm',
])

const thingWords: { readonly [K in KeysOf<SetRecord>]?: string } = {
  wheels: 'wheels',
  overCouplersMm: 'length over couplers',
  heightMm: 'height',
  weightG: 'weight',
  couplerSwingRad: 'coupler swing',
  frames: 'trucks and frames',
  thicknessMm: 'thickness',
  undersideMm: 'height above the floor',
  widthMm: 'width',
  leaf: 'door leaf',
  sillMm: 'sill',
  lengthMm: 'length',
  strainLimit: 'strain limit',
  onHand: 'pieces at home',
  canBuy: 'whether more can be bought',
  packOf: 'pieces in a pack',
  packPrice: 'price of a pack',
  opacity: 'fading',
}

function railwayWordsOf(change: Partial<Railway>): string {
  if (change.title === undefined || Object.keys(change).length > 1) return `Set ${fieldWords(change, railwayWords, 'railway')}`
  return change.title.trim() === '' ? 'Take the name of the railway away' : `Name the railway ${nameRead(change.title)}`
}

/** A change of a thing by its fields: named, moved, one field set, or changed altogether. */
function setWords(change: object, name: string): string {
  const keys = Object.keys(change)
  const title = 'name' in change && typeof change.name === 'string' ? change.name : null
  if (keys.length === 1 && title !== null) return title.trim() === '' ? `Take the name of ${name} away` : `Name ${name} ${nameRead(title)}`
  if ('isShown' in change) return `${change.isShown === true ? 'Show' : 'Hide'} ${name}`
  if (keys.length > 0 && keys.every((key) => placeKeys.has(key))) return `Move ${name}`
  const known: { readonly [key: string]: string } = thingWords
  const word = keys.length === 1 ? known[keys[0] ?? ''] : undefined
  return word === undefined ? `Change ${name}` : `Set ${word} of ${name}`
}

function recordName(plan: Plan, table: TableName, id: Id): string {
  const record = recordFind<TableName>(plan, table, id)
  return titled(tableWord(table), record !== null && 'name' in record ? nameRead(record.name) : id)
}

function lockedName(plan: Plan, lock: { readonly table: string; readonly record: Id } | null): string {
  const table = tableNames.find((one) => one === lock?.table)
  return lock === null || table === undefined ? 'what is locked' : recordName(plan, table, lock.record)
}

/** The record's own name; with the word for what it is where the name does not say it. */
function titled(word: string, name: string): string {
  if (name.trim() === '') return word
  return name.toLowerCase().includes(word) ? name : `${word} ${name}`
}

function cornerName(plan: Plan, trackId: Id, cornerId: Id): string {
  const track: Track | null = recordFind(plan, 'tracks', trackId)
  const index = track?.corners.findIndex((corner) => corner.id === cornerId) ?? -1
  return `PI ${index < 0 ? cornerId : index + 1} of ${recordName(plan, 'tracks', trackId)}`
}

function cornerAction(change: Partial<Omit<Corner, 'id'>>): string {
  if (change.x !== undefined || change.y !== undefined) return 'Move'
  return `Set ${fieldWords(change, cornerWords, 'curve')} at`
}

function turnoutAction(change: Partial<Omit<Turnout, 'id'>>, name: string): string {
  const keys = Object.keys(change)
  if (keys.length === 1 && keys[0] === 'stationMm') return `Move ${name}`
  return `Set ${fieldWords(change, turnoutWords, 'particulars')} of ${name}`
}

function endWords(place: TrackStart | TrackEnd, end: 'start' | 'end', plan: Plan): string {
  switch (place.kind) {
    case 'free':
      return `Move ${end}`
    case 'leg':
      return `Join ${recordName(plan, 'turnouts', place.turnout)} to ${end}`
    case 'closed':
      return 'Close loop'
  }
}

const ringName = (ring: number): string => (ring === -1 ? '' : `hole ${ring + 1} of `)

/** The one field that changes, or `many` for several. */
function fieldWords(change: object, words: { readonly [key: string]: string }, many: string): string {
  const known = Object.keys(change).filter((key) => Object.hasOwn(words, key))
  return known.length === 1 ? (words[known[0] ?? ''] ?? many) : many
}
