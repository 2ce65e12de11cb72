import type { Finding } from '../core/checks/types.ts'
import type { Plan } from '../core/plan/types.ts'
import { fixedName } from './findingParts.ts'
import { recordName } from './names.ts'

/** What is the matter, in a few words. */
export function findingTitle(finding: Finding, plan: Plan): string {
  if (finding.waitsFor !== undefined) return `Waits for ${recordName(plan, finding.waitsFor.table, finding.waitsFor.record)}`
  switch (finding.problem?.kind) {
    case 'levelCrossing':
      return 'Tracks cross on the level'
    case 'lowOverpass':
      return 'Track too low over another'
    case 'turnoutsOverlap':
      return 'Turnouts overlap'
    case 'turnoutTiesMeet':
      return 'Ties of two turnouts meet'
    case 'turnoutOverCrossing':
      return 'Turnout and crossing overlap'
    case 'crossingsOverlap':
      return 'Crossings overlap'
    case 'easementEndUnder':
      return finding.problem.what === 'easement' ? 'Easement ends under a turnout' : 'Curve changes under a turnout'
    case 'tiesOverEdge':
      return 'Ties past the edge'
    case 'crossingUnbuilt':
      return 'Crossing cannot be built'
    case 'elbowUnguarded':
      return 'Elbow frogs unguarded'
    case 'nearFixed':
      return `Cars too close to ${fixedName[finding.problem.table]}`
    case 'overEdge':
      return 'Cars hang over the edge'
    case 'holeOutside':
      return 'Hole past the outline'
    case 'floorCutOff':
      return 'Floor cut off'
    case 'hatchUnderTrack':
      return 'Track over a hatch'
    case 'outlineCrosses':
      return 'Outline crosses itself'
    case 'jointsAcross':
      return 'Joints without stagger'
    case 'jointOff':
      return finding.unit === 'mm' ? 'Gap where tracks join' : 'Kink where tracks join'
    default:
      return ruleTitle(finding)
  }
}

function ruleTitle(finding: Finding): string {
  switch (finding.rule) {
    case 'minimum-radius':
      return 'Curve under class radius'
    case 'car-radius':
      return 'Curve sharp for the longest car'
    case 'coupling-radius':
      return 'Curve too sharp to couple on'
    case 'coupler-swing':
      return 'Couplers swing too far'
    case 'reverse-curve':
      return finding.severity === 'error' ? 'Reverse curve without tangent' : 'Reverse curve, little tangent'
    case 'broken-back':
      return 'Broken-back curve'
    case 'alignment':
      return 'Line cannot be solved'
    case 'easement-fit':
      return finding.problem?.kind === 'sideTooShort' ? 'Curve does not fit' : 'Easements do not fit'
    case 'easement-short':
      return finding.measured === 0 ? 'Curve without easement' : 'Easement too short'
    case 'short-curve':
      return 'Curve too short'
    case 'benchwork-edge':
      return finding.measured !== null && finding.measured < 0 ? 'Track off the benchwork' : 'Track near the edge'
    case 'roadbed-edge':
      return 'Roadbed past the edge'
    case 'roadbed-overlap':
      return 'Roadbeds overlap'
    case 'track-clearance':
      return 'Tracks too close'
    case 'fixed-clearance':
      return 'Cars too close to the room'
    case 'minimum-frog':
      return 'Frog under class number'
    case 'turnout-place':
      return 'Turnout out of place'
    case 'crossing-build':
      return 'Crossing asks for attention'
    case 'throw-room':
      return 'Joist below the throw'
    case 'check-dimensions':
      return 'Check dimension out of standard'
    case 'benchwork-outline':
      return 'Benchwork outline is not a plain ring'
    case 'helix-height':
      return 'Helix leaves too little height'
    case 'maker-follow':
      return 'Maker cannot follow its track'
    case 'rail-joint':
      return 'Joint in a bad place'
    case 'line-joint':
      return 'Tracks do not join smoothly'
    case 'reach':
      return 'Track out of reach'
    case 'aisle':
      return 'Aisle too narrow'
    case 'door-swing':
      return 'Door does not open'
    case 'hatch-size':
      return 'Hatch too small'
    case 'hatch-place':
      return 'Hatch beside the benchwork'
    case 'bench-overlap':
      return 'Benchwork runs into the room'
  }
}
