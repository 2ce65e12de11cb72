import { describe, expect, it } from 'vitest'
import {
  leaveWatch,
  prefsFresh,
  prefsStoreCreate,
  sessionKeep,
  sessionKeys,
  sessionKept,
  sessionStoreCreate,
} from '../../../src/store/index.ts'
import type { TextStorage } from '../../../src/store/index.ts'
import { timingByHand } from '../../support/timing.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const plan = planWith({ tracks: [aTrack()] })
const storageInMemory = (): TextStorage => {
  const texts = new Map<string, string>()
  return { getItem: (key) => texts.get(key) ?? null, setItem: (key, value) => void texts.set(key, value) }
}
const forbidden: TextStorage = {
  getItem: () => {
    throw new DOMException('no', 'SecurityError')
  },
  setItem: () => {
    throw new DOMException('no', 'QuotaExceededError')
  },
}

describe('preferences', () => {
  it('are there again with the next page', () => {
    const storage = storageInMemory()
    prefsStoreCreate(storage).getState().setPrefs({ units: 'metric', bar100X: 99.7 })
    expect(prefsStoreCreate(storage).getState()).toMatchObject({ ...prefsFresh, units: 'metric', bar100X: 99.7 })
  })

  it('of two pages: what one chose is not undone by what the other chooses later', () => {
    const storage = storageInMemory()
    const [one, other] = [prefsStoreCreate(storage), prefsStoreCreate(storage)]
    one.getState().setPrefs({ keys: { undo: 'u' } })
    other.getState().setPrefs({ units: 'metric' })
    expect(prefsStoreCreate(storage).getState()).toMatchObject({ keys: { undo: 'u' }, units: 'metric' })
  })

  it('hold in this page when they cannot be kept', () => {
    const store = prefsStoreCreate(forbidden)
    store.getState().setPrefs({ theme: 'dark' })
    expect(store.getState().theme).toBe('dark')
  })

  it('take no value that is out of range, neither typed nor stored', () => {
    const storage = storageInMemory()
    storage.setItem('waybench.prefs', '{"units": "cubits", "fraction": 32, "bar100X": 0, "setPrefs": 5}')
    const store = prefsStoreCreate(storage)
    expect(store.getState()).toMatchObject({ ...prefsFresh, fraction: 32 })
    store.getState().setPrefs({ bar100Y: NaN })
    expect(store.getState().bar100Y).toBe(100)
    storage.setItem('waybench.prefs', '{"units"')
    expect(prefsStoreCreate(storage).getState()).toMatchObject(prefsFresh)
  })
})

describe('the session', () => {
  it('keeps the keys that its table says, and no other', () => {
    const [storage, timing] = [storageInMemory(), timingByHand()]
    const store = sessionStoreCreate()
    sessionKeep(store, storage, () => 'quay', timing)
    const at = store.getState()
    at.setStage('line')
    at.setTool('track')
    at.select({ kind: 'trackEnd', track: 'track-1', end: 'end' })
    at.setViewport({ centre: { x: 3, y: 4 }, pxPerMm: 2 })
    at.setNotice('a word')
    at.setHover({ track: 'track-1', stationMm: 5 })
    at.setHidden(['ties', 'guides'])
    timing.pass(300)
    expect(sessionKept(storage, plan, 'quay')).toEqual({
      stage: 'line',
      hidden: ['ties', 'guides'],
      selection: { kind: 'trackEnd', track: 'track-1', end: 'end' },
      viewport: { centre: { x: 3, y: 4 }, pxPerMm: 2 },
    })
    expect(Object.keys(sessionKept(storage, plan, 'quay')).sort()).toEqual(
      Object.entries(sessionKeys)
        .flatMap(([key, { persist }]) => (persist === 'browser' ? [key] : []))
        .sort(),
    )
  })

  it('is written at once when asked, and only once', () => {
    const [storage, timing] = [storageInMemory(), timingByHand()]
    const store = sessionStoreCreate()
    const write = sessionKeep(store, storage, () => 'quay', timing)
    store.getState().setStage('checks')
    write()
    expect(sessionKept(storage, plan, 'quay').stage).toBe('checks')
    storage.setItem('waybench.session.quay', '{}')
    timing.pass(1000)
    expect(sessionKept(storage, plan, 'quay')).toEqual({})
  })

  it('is of one plan: another one is not looked at where that was', () => {
    const [storage, timing] = [storageInMemory(), timingByHand()]
    const store = sessionStoreCreate()
    sessionKeep(store, storage, () => 'quay', timing)
    store.getState().setViewport({ centre: { x: 3, y: 4 }, pxPerMm: 2 })
    timing.pass(300)
    expect([sessionKept(storage, plan, 'quay').viewport, sessionKept(storage, plan, 'pier')]).toEqual([
      { centre: { x: 3, y: 4 }, pxPerMm: 2 },
      {},
    ])
  })

  it('does not select what the plan has not, nor look where there is no place', () => {
    const storage = storageInMemory()
    for (const selection of [
      { kind: 'record', table: 'tracks', id: 'track-9' },
      { kind: 'corner', track: 'track-1', corner: 'pi-1' },
      { kind: 'ringPoint', benchwork: 'benchwork-1', ring: -1, index: 0 },
      { kind: 'cat' },
    ]) {
      storage.setItem(
        'waybench.session.quay',
        JSON.stringify({ selection, viewport: { centre: { x: 0, y: 0 }, pxPerMm: 0 }, stage: 'attic' }),
      )
      expect(sessionKept(storage, plan, 'quay')).toEqual({})
    }
    expect(sessionKept(forbidden, plan, 'quay')).toEqual({})
  })

  it('wakes nobody when a pointer says the same again', () => {
    const store = sessionStoreCreate()
    let calls = 0
    store.subscribe(() => {
      calls += 1
    })
    store.getState().setHover({ track: 'track-1', stationMm: 5 })
    store.getState().setHover({ track: 'track-1', stationMm: 5 })
    store.getState().setTool('select')
    expect(calls).toBe(1)
  })
})

describe('the page', () => {
  it('is watched for the moments of leaving', () => {
    const page = Object.assign(new EventTarget(), { document: Object.assign(new EventTarget(), { visibilityState: 'visible' }) })
    let flushes = 0
    let isUnkept = false
    const stop = leaveWatch(
      page as unknown as Window,
      () => {
        flushes += 1
      },
      () => isUnkept,
    )
    const asksToStay = (): boolean => !page.dispatchEvent(new Event('beforeunload', { cancelable: true }))
    expect(asksToStay()).toBe(false)
    isUnkept = true
    expect(asksToStay()).toBe(true)
    page.document.dispatchEvent(new Event('visibilitychange'))
    expect(flushes).toBe(0)
    page.document.visibilityState = 'hidden'
    page.document.dispatchEvent(new Event('visibilitychange'))
    page.dispatchEvent(new Event('pagehide'))
    expect(flushes).toBe(2)
    stop()
    page.dispatchEvent(new Event('pagehide'))
    expect([flushes, asksToStay()]).toEqual([2, false])
  })
})
