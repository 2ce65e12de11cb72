import { describe, expect, it } from 'vitest'
import { pathNearest, pointDistance, ringArea } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import {
  benchUsual,
  constructionOf,
  crossingConstructionOf,
  tieDistance,
  turnoutMirror,
  zoneClearance,
} from '../../../src/core/turnout/index.ts'
import type { RailStick, TieChoice, TurnoutGeometry, TurnoutRequest } from '../../../src/core/turnout/index.ts'
import { crossed, crossingRequest } from '../../support/crossings.ts'
import { ho6, inch, requestOfScale, solved } from '../../support/turnouts.ts'

const boards: TieChoice = { lay: 'square', spacing: 'even', board: { every: 5, at: ['tips', 'heel', 'toe', 'frog', 'gaps'] } }
const turnout = solved({ ...ho6, ties: boards })
const made = constructionOf(turnout)
const degree = Math.PI / 180

function stickOf(role: RailStick['role']): RailStick {
  const found = made.sticks.find((stick) => stick.role === role)
  if (!found) throw new Error(`no stick ${role}`)
  return found
}

/** Width of a card at its far end: one edge is told out to there, the other back from there. */
function farWidth(ring: readonly Point[]): number {
  const [inner, outer] = [ring[ring.length / 2 - 1], ring[ring.length / 2]]
  return inner && outer ? pointDistance(inner, outer) : Number.NaN
}

describe('cut list of No. 6 in HO, worked by hand in inches', () => {
  // Rr (F - S) = 35.67 (.16628 - .05613) = 3.929; lead - a - u = 6.155 - 1.515 - .750 = 3.890. A trade sheet prints 3.930 and 3.891.
  it.each([
    ['closure-curved', 3.93],
    ['closure-straight', 3.891],
    ['point-straight', 1.515],
    ['point-curved', 1.515],
  ] as const)('%s', (role, byHand) => {
    expect(Math.abs(stickOf(role).lengthMm / inch - byHand)).toBeLessThan(1.5e-3)
  })

  it('the curved closure is one arc of 35.67, the straight one a straight', () => {
    const [arc, ...more] = stickOf('closure-curved').pieces
    expect(more).toEqual([])
    expect((arc?.radiusMm ?? 0) / inch).toBeCloseTo(35.67, 2)
    expect(stickOf('closure-straight').pieces.map(({ kind }) => kind)).toEqual(['straight'])
  })

  it('points are planed at the switch angle, frog rails at half the frog angle', () => {
    // asin(.085 / 1.515) = 3.216 deg; 9.527 / 2 = 4.764 deg.
    expect((stickOf('point-curved').filings[0]?.angleRad ?? 0) / degree).toBeCloseTo(3.216, 1)
    for (const role of ['frog-straight', 'frog-curved'] as const) {
      expect((stickOf(role).filings[0]?.angleRad ?? 0) / degree).toBeCloseTo(9.527 / 2, 2)
    }
  })

  it('wings bend by the frog angle at the knuckle and open at their end, guards open at both', () => {
    const wing = stickOf('wing-straight')
    expect(wing.bends.map(({ turnRad }) => turnRad / degree)).toEqual([expect.closeTo(9.527, 2), expect.closeTo(5, 6)])
    // The knuckle lies flangeway / sin F ahead of the theoretical point: .750 - .048 / sin 9.527 deg = .460 from the toe.
    expect((wing.bends[0]?.atMm ?? 0) / inch).toBeCloseTo(0.46, 2)
    expect(stickOf('guard-straight').bends.map(({ turnRad }) => Math.abs(turnRad) / degree)).toEqual([
      expect.closeTo(5, 6),
      expect.closeTo(5, 6),
    ])
  })

  it('the ordinates are those of the trade: .090 .158 .254 .376 .526', () => {
    const [route] = made.ordinates
    const byHand = [0.09, 0.158, 0.254, 0.376, 0.526]
    expect(route?.quarters).toHaveLength(byHand.length)
    for (const [i, { yMm }] of (route?.quarters ?? []).entries()) expect(Math.abs(yMm / inch - (byHand[i] ?? 0))).toBeLessThan(6e-4)
  })

  it('ordinates at ties: Rr (cos S - cos th) + h over the closure, the gauge more to the stock rail opposite', () => {
    const { switchAngleRad: s, closureGaugeLineRadiusMm: r } = turnout
    const heelX = ho6.pointLengthMm * Math.cos(s)
    const rows = (made.ordinates[0]?.ties ?? []).filter(
      ({ stationMm }) => stationMm > heelX && stationMm < turnout.leadMm - ho6.toeLengthMm,
    )
    expect(rows.length).toBeGreaterThan(14)
    for (const { stationMm, closureMm, stockMm } of rows) {
      const sine = Math.sin(s) + (stationMm - heelX) / r
      expect(closureMm).toBeCloseTo(ho6.heelSpreadMm + r * (Math.cos(s) - Math.sqrt(1 - sine * sine)), 6)
      // The inner rail has the gauge less radius about the same centre.
      const inner = r - ho6.gaugeMm
      const th = Math.asin((sine * r) / inner)
      expect(stockMm).toBeCloseTo(ho6.heelSpreadMm + r * Math.cos(s) - inner * Math.cos(th), 6)
    }
  })
})

describe.each([
  ['HO', 6, 'straight', 'left'],
  ['HO', 6, 'straight', 'right'],
  ['N', 8, 'curved', 'right'],
  ['O', 5, 'straight', 'left'],
  ['S', 10, 'curved', 'left'],
] as const)('construction of %s No. %d, %s points, %s', (scale, frog, points, hand) => {
  const geometry = solved({ ...requestOfScale(scale, frog, points, hand), ties: boards })
  const of = constructionOf(geometry)

  it('sticks are the gauge lines: pieces follow each other and add up', () => {
    expect(of.sticks).toHaveLength(geometry.rails.length)
    for (const [i, { pieces, lengthMm }] of of.sticks.entries()) {
      expect(lengthMm).toBe(geometry.rails[i]?.gaugeLine.lengthMm)
      const end = pieces.reduce((at, piece) => {
        expect(piece.fromMm).toBeCloseTo(at, 6)
        return at + piece.lengthMm
      }, 0)
      expect(end).toBeCloseTo(lengthMm, 6)
    }
  })

  it('each point has its nest: the bent stock rail its set as drawn, the straight one an undercut as deep as the tip', () => {
    expect(of.nests.map(({ by }) => by.kind).toSorted()).toEqual(['set', 'undercut'])
    for (const { by, stock } of of.nests) {
      if (by.kind === 'set') {
        expect(by.isDrawn).toBe(true)
        expect(geometry.rails[stock]?.role).toBe('stock-curved')
      } else {
        expect(by.depthMm).toBeCloseTo(geometry.request.pointThicknessMm, 6)
        expect(geometry.rails[stock]?.role).toBe('stock-straight')
      }
    }
  })

  it('by choice the straight stock rail gets a set too, that reaches the thickness of the tip at the tip', () => {
    const both = constructionOf(geometry, { ...benchUsual(geometry.request), nest: 'set' }).nests
    expect(both.map(({ by }) => by.kind)).toEqual(['set', 'set'])
    const own = both.find(({ by }) => by.kind === 'set' && !by.isDrawn)
    if (own?.by.kind !== 'set') throw new Error('no set of its own')
    const stock = geometry.rails[own.stock]?.gaugeLine
    const toTip = (stock ? pathNearest(stock, own.at).stationMm : 0) - own.by.alongMm
    expect(toTip * Math.tan(Math.abs(own.by.turnRad))).toBeCloseTo(geometry.request.pointThicknessMm, 6)
  })

  it('all rails are in one section each; the frog alone, the rest by side, guards with the rail beside them', () => {
    const { sections } = of.electrics
    expect(sections.map(({ kind }) => kind)).toEqual(['vee', 'left', 'right'])
    expect(sections.flatMap(({ rails }) => rails).toSorted((a, b) => a - b)).toEqual(geometry.rails.map((_, i) => i))
    const names = (kind: string): readonly (string | undefined)[] =>
      (sections.find((section) => section.kind === kind)?.rails ?? []).map((rail) => geometry.rails[rail]?.role).toSorted()
    expect(names('vee')).toEqual(['frog-curved', 'frog-straight', 'wing-curved', 'wing-straight'])
    // A left-hand turnout has the straight stock rail on the right.
    expect(names(hand === 'left' ? 'right' : 'left')).toEqual(['closure-curved', 'guard-straight', 'point-curved', 'stock-straight'])
  })

  it('four gaps, two at the toe and two at the heel, in no guard and not at the tip', () => {
    expect(of.electrics.gaps.map(({ end }) => end).toSorted()).toEqual(['heel', 'heel', 'toe', 'toe'])
    expect(of.electrics.gaps.flatMap(({ faults }) => faults)).toEqual([])
  })

  it('closures and points are each bonded to a stock rail of their own section; every section is fed', () => {
    const { bonds, sections, feeders } = of.electrics
    expect(bonds.map(({ why }) => why).toSorted()).toEqual(['closureToStock', 'closureToStock', 'pointToStock', 'pointToStock'])
    const sectionOf = (rail: number): number => sections.findIndex(({ rails }) => rails.includes(rail))
    for (const { from, to } of bonds) {
      expect(sectionOf(from.rail)).toBe(sectionOf(to.rail))
      expect(geometry.rails[to.rail]?.role).toMatch(/^stock/)
    }
    expect(feeders.map(({ section }) => section).toSorted()).toEqual([0, 1, 2])
    for (const { at, rail } of [...feeders, ...bonds.flatMap(({ from, to }) => [from, to])]) {
      const line = geometry.rails[rail]?.gaugeLine
      expect(line && pathNearest(line, at).distanceMm).toBeLessThan(1e-9)
    }
  })

  it('PC-board ties stand on both sides of every gap, and their foil is parted between unlike rails', () => {
    for (const { at } of geometry.gaps) {
      const two = geometry.ties.map((tie, index) => ({ index, off: tieDistance(tie, at) })).toSorted((a, b) => a.off - b.off)
      for (const { index } of two.slice(0, 2)) expect(of.boardTies.map(({ tie }) => tie)).toContain(index)
    }
    for (const { tie, foilGaps } of of.boardTies) {
      const one = geometry.ties[tie]
      // At least between the two outer rails, and behind the frog between three or four pairs.
      expect(foilGaps.length).toBeGreaterThanOrEqual(1)
      for (const { at, roomMm } of foilGaps) {
        expect(roomMm).toBeGreaterThan(0)
        expect(one && tieDistance(one, at)).toBeCloseTo(-(one?.widthMm ?? 0) / 2, 6)
      }
    }
  })

  it('spikes hold every second tie on both sides of a foot, none in points, none near the frog', () => {
    for (const { tie, rail, at } of of.spikes) {
      expect(tie % 2).toBe(0)
      expect(geometry.rails[rail]?.role).not.toMatch(/^point/)
      expect(pointDistance(at, geometry.frogPoint)).toBeGreaterThanOrEqual(inch)
      const one = geometry.ties[tie]
      expect(one && tieDistance(one, at)).toBeLessThan(0)
    }
    expect(of.spikes.filter(({ side }) => side === 'inside')).toHaveLength(of.spikes.length / 2)
  })

  it('the roadbed card lies beside the host, turns by the frog angle at the crotch and has its width behind it', () => {
    const [card, ...more] = of.roadbed
    expect(more).toEqual([])
    const { roadbedMm } = benchUsual(geometry.request)
    expect(card?.crotchRad).toBeCloseTo(geometry.frogAngleRad, 6)
    const side = hand === 'left' ? 1 : -1
    for (const { y } of card?.top ?? []) expect(side * y).toBeGreaterThan(roadbedMm / 2 - 1e-5)
    expect(ringArea(card?.top ?? [])).toBeGreaterThan(0)
    expect(ringArea(card?.foot ?? [])).toBeGreaterThan(0)
    expect(farWidth(card?.top ?? [])).toBeCloseTo(roadbedMm, 6)
  })

  it('the other hand is built the same, mirrored', () => {
    const other = constructionOf(turnoutMirror(geometry))
    expect(other.sticks.map(({ lengthMm }) => lengthMm)).toEqual(of.sticks.map(({ lengthMm }) => lengthMm))
    expect(other.boardTies.map(({ foilGaps }) => foilGaps.length)).toEqual(of.boardTies.map(({ foilGaps }) => foilGaps.length))
    expect(other.spikes).toHaveLength(of.spikes.length)
    const ys = (all: TurnoutGeometry['gaps']): readonly number[] => all.map(({ at }) => Math.abs(at.y))
    expect(ys(turnoutMirror(geometry).gaps)).toEqual(ys(geometry.gaps))
  })
})

describe.each(['none', 'single-left', 'double'] as const)('a No. 6 crossing, slip %s', (slip) => {
  const crossing = crossed(crossingRequest(2 * Math.atan(1 / 12), { slip }))
  const of = crossingConstructionOf(crossing, benchUsual(crossing.request), { every: null, at: ['gaps', 'frog'] })

  it('has two vees and two elbows of their own, each named, and every rail in one section', () => {
    const { sections, feeders } = of.electrics
    expect(sections.map(({ name }) => name).toSorted()).toEqual(['Elbow 1', 'Elbow 2', 'Frog 1', 'Frog 2', 'Left rail', 'Right rail'])
    expect(sections.flatMap(({ rails }) => rails).toSorted((a, b) => a - b)).toEqual(crossing.rails.map((_, i) => i))
    expect(new Set(feeders.map(({ section }) => section)).size).toBe(sections.length)
  })

  it('every frog is cut free on all four of its ends', () => {
    for (const [frog] of crossing.frogs.entries()) {
      expect(of.electrics.gaps.filter((gap) => gap.frog === frog)).toHaveLength(4)
    }
  })

  it('the roadbed of a slip is what it adds between both tracks, where its curve cuts their corner', () => {
    const cards = of.roadbed.filter(({ route }) => route.startsWith('slip-'))
    expect(cards.map(({ route }) => route)).toEqual(crossing.slips.map(({ route }) => route))
    const { roadbedMm } = benchUsual(crossing.request)
    for (const card of cards) {
      expect(card.crotchRad).toBeNull()
      expect(ringArea(card.top)).toBeGreaterThan(0)
      const slip = crossing.routes.find(({ name }) => name === card.route)
      const widest = Math.max(
        ...card.top.map((p) =>
          Math.min(
            ...crossing.routes
              .filter(({ name }) => !name.startsWith('slip-'))
              .map(({ centre }) => Math.abs(pathNearest(centre, p).offsetMm)),
          ),
        ),
      )
      // By hand: on the line that halves the corner of two tangents the arc passes R (1 / cos(A/2) - 1) off it; seen square to either track that
      // is times cos(A/2). Its points begin their own thickness off the stock rails.
      const [radiusMm, turnRad] = [slip === undefined ? NaN : (crossing.slips[0]?.radiusMm ?? NaN), crossing.angleRad]
      const cornerMm = radiusMm * (1 / Math.cos(turnRad / 2) - 1)
      expect(widest).toBeCloseTo((cornerMm + roadbedMm / 2) * Math.cos(turnRad / 2) + crossing.request.pointThicknessMm, 1)
      for (const p of card.top)
        for (const { name, centre } of crossing.routes)
          if (!name.startsWith('slip-')) expect(Math.abs(pathNearest(centre, p).offsetMm)).toBeGreaterThan(roadbedMm / 2 - 1e-5)
    }
  })

  it('gaps within a tie of a tip are told: those of a slip beside its points', () => {
    const near = of.electrics.gaps.filter(({ faults }) => faults.includes('nearTip')).length
    if (slip === 'none') expect(near).toBe(0)
    else expect(near).toBeGreaterThan(0)
  })

  it('has ties on both sides of every gap, PC-board ones by choice, and holes for each pair of points', () => {
    for (const { at } of crossing.gaps) expect(Math.min(...crossing.ties.map((tie) => tieDistance(tie, at)))).toBeGreaterThan(0)
    expect(of.boardTies.length).toBeGreaterThan(8)
    expect(of.slots).toHaveLength({ none: 0, 'single-left': 2, double: 4 }[slip])
  })
})

describe('the throw', () => {
  const { slots, zones } = made
  const [slot] = slots
  const [zone] = zones
  const usual = benchUsual(ho6)
  const { wireMm } = usual.throwWire

  it('a wire that tilts at the underside is only as wide there as it is itself, and free', () => {
    expect(slot?.topMm).toBeCloseTo(turnout.throwMm + 2 * wireMm, 9)
    expect(slot?.bottomMm).toBeCloseTo(2 * wireMm, 9)
    expect(slot?.drillMm).toBe(slot?.topMm)
  })

  it('twice as deep as its fulcrum it moves as far the other way; upright it moves as far all through', () => {
    const wire = (fulcrumMm: number | null) => constructionOf(turnout, { ...usual, throwWire: { ...usual.throwWire, fulcrumMm } }).slots[0]
    expect(wire(usual.throwWire.deckMm / 2)?.bottomMm).toBeCloseTo(turnout.throwMm + 2 * wireMm, 9)
    // A third of the way down: at the underside twice as far the other way.
    expect(wire(usual.throwWire.deckMm / 3)?.drillMm).toBeCloseTo(2 * turnout.throwMm + 2 * wireMm, 9)
    expect(wire(null)?.bottomMm).toBeCloseTo(turnout.throwMm + 2 * wireMm, 9)
  })

  it('by the lever: at the longest arm the travel just throws the points', () => {
    const armMm = slot?.longestArmMm ?? 0
    const { fulcrumMm, travelMm } = usual.throwWire
    expect((travelMm * (fulcrumMm ?? 0)) / armMm).toBeCloseTo(turnout.throwMm, 9)
    const longer = constructionOf(turnout, { ...usual, throwWire: { ...usual.throwWire, armMm: armMm * 1.1 } }).slots[0]
    expect(longer?.spareMm).toBeLessThan(0)
  })

  it('the room below: a joist beside it is as far as it is, one across it has none', () => {
    if (!zone) throw new Error('no zone')
    const x = zone.middle.x + zone.lengthMm / 2 + 30
    expect(zoneClearance(zone, { x, y: -500 }, { x, y: 500 }, 20)).toBeCloseTo(20, 6)
    expect(zoneClearance(zone, { x: 0, y: -500 }, { x: 1, y: 500 }, 20)).toBe(0)
    const y = zone.middle.y + zone.widthMm / 2 + 30
    expect(zoneClearance(zone, { x: x - 30 + 40, y }, { x: x + 500, y }, 20)).toBeCloseTo(Math.hypot(40, 30) - 10, 6)
    // An end that points at the room.
    expect(zoneClearance(zone, { x: 0, y }, { x: 0, y: y + 900 }, 20)).toBeCloseTo(20, 6)
  })
})

const kinds: readonly TurnoutRequest['kind'][] = [
  { kind: 'wye', share: 0.5 },
  { kind: 'wye', share: 0.3 },
  { kind: 'three-way', secondFrog: 6, secondAfterMm: 0 },
  { kind: 'three-way', secondFrog: 6, secondAfterMm: 60 },
  { kind: 'stub' },
  { kind: 'gauntlet' },
  { kind: 'dual-gauge', narrowGaugeMm: 10.5, common: 'left', diverging: 'both' },
  { kind: 'dual-gauge', narrowGaugeMm: 10.5, common: 'right', diverging: 'narrow' },
]

describe.each(kinds.map((kind) => [kind.kind, kind] as const))('construction of a %s', (_, kind) => {
  const cases = (['left', 'right'] as const).flatMap((hand) =>
    (['square', 'fanned'] as const).map((lay) => solved({ ...ho6, kind, hand, ties: { ...boards, lay } })),
  )

  it('every rail is in one section, every frog cut free, every jumper within a section', () => {
    for (const geometry of cases) {
      const { electrics } = constructionOf(geometry)
      expect(electrics.sections.flatMap(({ rails }) => rails).toSorted((a, b) => a - b)).toEqual(geometry.rails.map((_, i) => i))
      expect(electrics.sections.filter(({ frog }) => frog !== null)).toHaveLength(geometry.frogs.length)
      for (const [frog] of geometry.frogs.entries()) expect(electrics.gaps.some((gap) => gap.frog === frog)).toBe(true)
      const sectionOf = (rail: number): number => electrics.sections.findIndex(({ rails }) => rails.includes(rail))
      for (const { from, to } of electrics.bonds) expect(sectionOf(from.rail)).toBe(sectionOf(to.rail))
    }
  })

  it('gaps lie clear of ties; a throw for every pair of head blocks; sticks add up', () => {
    for (const geometry of cases) {
      const { sticks, slots, nests } = constructionOf(geometry)
      for (const { at } of geometry.gaps) expect(Math.min(...geometry.ties.map((tie) => tieDistance(tie, at)))).toBeGreaterThan(0)
      expect(slots).toHaveLength(geometry.ties.filter(({ isHeadBlock }) => isHeadBlock).length / 2)
      for (const { pieces, lengthMm } of sticks) expect(pieces.reduce((sum, piece) => sum + piece.lengthMm, 0)).toBeCloseTo(lengthMm, 6)
      // The moved rails of a stub have no stock rail to lie against.
      const planed = geometry.rails.filter(({ role, headTaper }) => role.startsWith('point') && headTaper !== undefined)
      expect(nests).toHaveLength(planed.length)
    }
  })
})
