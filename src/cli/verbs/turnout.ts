import { crossingParts, turnoutParts } from '../../core/deliver/index.ts'
import { constructionOf, crossingConstructionOf, crossingSolve, turnoutSolve } from '../../core/turnout/index.ts'
import type { Answer } from '../answer.ts'
import type { Args } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { scaleChosen } from '../scale.ts'
import { crossingAsked } from '../turnout/crossingAsked.ts'
import { crossingJson, crossingText } from '../turnout/crossingTold.ts'
import { measuresAsked } from '../turnout/measures.ts'
import { isCrossing, kindAsked, type CrossingKindName, type TurnoutKindName } from '../turnout/options.ts'
import { pictureFiles } from '../turnout/pictureFile.ts'
import { turnoutAsked } from '../turnout/turnoutAsked.ts'
import { turnoutJson, turnoutText } from '../turnout/turnoutTold.ts'
import { benchPractice, boardChoice, constructionJson, constructionText } from '../turnoutBench.ts'
import { checksJson, checksText, crossingChecks, turnoutChecks } from '../turnoutChecks.ts'
import { crossingProblemWords, turnoutProblemWords } from '../turnoutWords.ts'

export function turnoutRun(args: Args): Answer {
  const kind = kindAsked(args)
  return isCrossing(kind) ? crossingAnswer(args, kind) : turnoutAnswer(args, kind)
}

function turnoutAnswer(args: Args, kind: TurnoutKindName): Answer {
  const measures = measuresAsked(args)
  const solved = turnoutSolve(turnoutAsked(args, kind, measures))
  if (!solved.ok) throw new BadInput(turnoutProblemWords(solved.problem))
  const { turnout } = solved
  const made = constructionOf(turnout, benchPractice(args, turnout.request))
  const checks = turnoutChecks(turnout, scaleChosen(args).row.key)
  return {
    json: { ...turnoutJson(kind, turnout, measures.notes), ...constructionJson(turnout, made), ...checksJson(checks) },
    text: [turnoutText(turnout, measures.notes), '', checksText(checks), '', constructionText(args, turnoutParts(turnout), made)].join(
      '\n',
    ),
    exitCode: 0,
    files: pictureFiles(args, turnout, `${kind} No. ${turnout.request.frog}`),
  }
}

function crossingAnswer(args: Args, kind: CrossingKindName): Answer {
  const measures = measuresAsked(args)
  const solved = crossingSolve(crossingAsked(args, kind, measures))
  if (!solved.ok) throw new BadInput(crossingProblemWords(solved.problem))
  const { crossing } = solved
  const made = crossingConstructionOf(crossing, benchPractice(args, crossing.request), boardChoice(args))
  const checks = crossingChecks(crossing, scaleChosen(args).row.key)
  return {
    json: { ...crossingJson(kind, crossing, measures.notes), ...constructionJson(crossing, made), ...checksJson(checks) },
    text: [crossingText(crossing, measures.notes), '', checksText(checks), '', constructionText(args, crossingParts(crossing), made)].join(
      '\n',
    ),
    exitCode: 0,
    files: pictureFiles(args, crossing, `${kind} No. ${crossing.number.toFixed(2)}`),
  }
}
