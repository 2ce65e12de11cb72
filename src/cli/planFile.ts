import type { Plan } from '../core/plan/index.ts'
import { planRead, planSizeLimit } from '../formats/planjson.ts'
import { planFileProblemText } from '../words/fileText.ts'
import { BadInput } from './badInput.ts'
import { textFromFile } from './textFile.ts'

/** The plan of a file. Throws BadInput with what is wrong and where. */
export function planFromFile(path: string): Plan {
  const read = planRead(textFromFile(path, planSizeLimit, 'plan'))
  if (!read.ok) throw new BadInput(`${path}: ${planFileProblemText(read.problem)}`)
  return read.plan
}
