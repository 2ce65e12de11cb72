import { readFileSync, statSync } from 'node:fs'
import type { Plan } from '../core/plan/index.ts'
import { planRead, planSizeLimit, type PlanFileProblem } from '../formats/planjson.ts'
import { BadInput } from './badInput.ts'

/** The plan of a file. Throws BadInput with what is wrong and where. */
export function planFromFile(path: string): Plan {
  let text: string
  try {
    // The size is asked first: a file of gigabytes is not read to be refused.
    if (statSync(path).size > planSizeLimit)
      throw new BadInput(`${path}: the file is larger than ${planSizeLimit / 1024 / 1024} MB; that is no plan.`)
    text = readFileSync(path, 'utf8')
  } catch (error) {
    if (error instanceof BadInput) throw error
    const code = error instanceof Error && 'code' in error ? error.code : undefined
    throw new BadInput(code === 'ENOENT' ? `${path}: there is no such file.` : `${path}: it cannot be read (${String(code ?? error)}).`)
  }
  const read = planRead(text)
  if (!read.ok) throw new BadInput(`${path}: ${planProblemWords(read.problem)}`)
  return read.plan
}

function planProblemWords(problem: PlanFileProblem): string {
  switch (problem.kind) {
    case 'tooLarge':
      return `the file has ${problem.size} characters, at most ${problem.limit} are read; that is no plan.`
    case 'empty':
      return 'the file is empty.'
    case 'truncated':
      return `the file breaks off at line ${problem.line}, column ${problem.column}; ${problem.expected} was to come. Fetch it again or take a backup.`
    case 'damaged':
      return `the file is damaged at line ${problem.line}, column ${problem.column}: ${problem.found ?? 'nothing'} stands where ${problem.expected} should.`
    case 'unreadable':
      return `the file cannot be read as JSON: ${problem.reason}`
    case 'notAPlan':
      return `this is no Waybench plan; "format" should be "waybench-plan".`
    case 'newerVersion':
      return `the plan has version ${problem.version}; this Waybench reads up to ${problem.newest}. Use a newer one.`
    case 'tooDeep':
      return `${problem.where} is nested more than ${problem.limit} deep; that is no plan.`
    case 'badValue':
      return `${problem.where} is ${JSON.stringify(problem.value) ?? 'missing'}; it should be ${problem.expected}.`
    case 'broken':
      return `the plan refers to something that is not in it: ${JSON.stringify(problem.reference)}`
  }
}
