import { workPicture } from '../deliver/index.ts'
import { standardBuild } from '../network/index.ts'
import { plainKind } from '../plan/index.ts'
import type { LineClass, Railway, TurnoutKind } from '../plan/types.ts'
import { hostOfElements, turnoutRequest, turnoutSolve } from '../turnout/index.ts'
import type { HostLine, TurnoutRequest } from '../turnout/index.ts'
import type { GalleryFigure, GalleryKey, GalleryPiece } from './types.ts'

/** The number of all frogs here: the one that most builders begin with. */
export const galleryFrog = 6
/** Radius of bent hosts in gauges: 39 in in HO, where both routes are still easy on any car. */
const hostGauges = 60
/** The easement in gauges. */
const easementGauges = 20
/** Hosts reach so far both ways, in gauges. */
const reachGauges = 60
const unequalShare = 0.3
/** Three feet of four feet eight and a half. */
const narrowOfGauge = 36 / 56.5

/** What is asked for besides the railway's standard. */
export interface TurnoutAsked {
  readonly points?: 'straight' | 'curved'
  readonly kind?: TurnoutKind
  readonly shared?: 'gauntlet' | 'dual-gauge'
  readonly host?: 'inside' | 'outside' | 'easement'
}

export const galleryTurnouts = {
  'straight-points': {},
  'curved-points': { points: 'curved' },
  'same-hand': { host: 'inside' },
  'opposite-hand': { host: 'outside' },
  easement: { host: 'easement' },
  wye: { kind: { kind: 'wye', share: 0.5 } },
  'wye-unequal': { kind: { kind: 'wye', share: unequalShare } },
  'three-way': { kind: { kind: 'three-way', secondFrog: galleryFrog, secondAfterMm: 0 } },
  stub: { kind: { kind: 'stub' } },
  gauntlet: { shared: 'gauntlet' },
  'dual-gauge': { shared: 'dual-gauge' },
} as const satisfies { readonly [K in GalleryKey]?: TurnoutAsked }

/** A turnout of the gallery by the standards of the railway. */
export function turnoutPiece(key: GalleryKey, asked: TurnoutAsked, railway: Railway, lineClass: LineClass): GalleryPiece {
  const request = requestOf(asked, railway, lineClass)
  const solved = turnoutSolve(request)
  if (!solved.ok) return { ok: false, problem: { kind: 'turnout', problem: solved.problem } }
  const { turnout } = solved
  const { host, kind } = request
  const [, other] = turnout.divergences
  const figures: readonly (GalleryFigure | null)[] = [
    host === null ? null : { kind: 'host', mm: hostGauges * railway.gaugeMm },
    asked.host === 'easement' ? { kind: 'easement', mm: easementGauges * railway.gaugeMm } : null,
    kind.kind === 'dual-gauge' ? { kind: 'narrowGauge', mm: kind.narrowGaugeMm } : null,
    { kind: 'frogs', numbers: turnout.frogs.map(({ number }) => number) },
    { kind: 'lead', mm: turnout.leadMm },
    { kind: 'radius', mm: turnout.divergingRadiusMm },
    other === undefined ? null : { kind: 'otherRadius', mm: other.radiusMm },
    { kind: 'length', mm: turnout.extent.toMm - turnout.extent.fromMm },
  ]
  return { ok: true, picture: workPicture(turnout, key), figures: figures.filter((figure) => figure !== null) }
}

function requestOf({ points, kind, shared, host }: TurnoutAsked, railway: Railway, lineClass: LineClass): TurnoutRequest {
  const request = turnoutRequest(railway, lineClass, {
    hand: 'left',
    frog: galleryFrog,
    build: { ...standardBuild, points: points ?? 'straight' },
    kind: kind ?? plainKind,
  })
  const { gaugeMm } = railway
  const sharedKind =
    shared === 'gauntlet'
      ? ({ kind: 'gauntlet' } as const)
      : ({ kind: 'dual-gauge', narrowGaugeMm: narrowOfGauge * gaugeMm, common: 'right', diverging: 'both' } as const)
  return {
    ...request,
    kind: shared === undefined ? request.kind : sharedKind,
    host: host === undefined ? null : hostLine(host, gaugeMm),
  }
}

function hostLine(host: NonNullable<TurnoutAsked['host']>, gaugeMm: number): HostLine {
  const [k, reachMm, easementMm] = [1 / (hostGauges * gaugeMm), reachGauges * gaugeMm, easementGauges * gaugeMm]
  switch (host) {
    case 'inside':
      return hostOfElements([{ lengthMm: 2 * reachMm, k0: k, k1: k }], reachMm)
    case 'outside':
      return hostOfElements([{ lengthMm: 2 * reachMm, k0: -k, k1: -k }], reachMm)
    case 'easement':
      return hostOfElements(
        [
          { lengthMm: reachMm, k0: 0, k1: 0 },
          { lengthMm: easementMm, k0: 0, k1: k },
          { lengthMm: reachMm, k0: k, k1: k },
        ],
        reachMm,
      )
  }
}

/** A second switch behind the first, as near as its points and frogs allow; the plan's standards say how near that is. */
export function lappedPiece(key: GalleryKey, railway: Railway, lineClass: LineClass): GalleryPiece {
  const kindAt = (secondAfterMm: number): TurnoutKind => ({ kind: 'three-way', secondFrog: galleryFrog, secondAfterMm })
  // Asked for next to nothing, the turnout tells between which laps there is room; the middle of them is taken.
  const asked = turnoutSolve(requestOf({ kind: kindAt(1) }, railway, lineClass))
  if (asked.ok || asked.problem.kind !== 'noRoomForSecond') return turnoutPiece(key, { kind: kindAt(1) }, railway, lineClass)
  const { leastMm, mostMm } = asked.problem
  return turnoutPiece(key, { kind: kindAt(((leastMm ?? 1) + (mostMm ?? leastMm ?? 1)) / 2) }, railway, lineClass)
}
