import { columns } from './answer.ts'
import { commonOptions, type VerbSpec } from './args.ts'

/** The whole command at a glance. */
export function helpAll(verbs: readonly VerbSpec[]): string {
  return [
    'waybench VERB … [--json] [--csv FILE]',
    '',
    columns(verbs.map((verb) => [`  ${verb.name}`, verb.about])),
    '',
    "Lengths carry their unit: 30in, 762mm, 1'6-1/2\", 0.75m. Angles: 60deg, 9°32', 0.17rad.",
    '--json prints one JSON object, lengths in mm and angles in rad; --csv FILE writes its tables.',
    'Exit code: 0 done, 1 the plan breaks a limit (check), 2 bad input, nothing written.',
    'waybench VERB --help tells the options of a verb.',
  ].join('\n')
}

/** One verb with its options and an example. */
export function helpVerb(verb: VerbSpec): string {
  const options = Object.entries({ ...verb.options, ...commonOptions, ...verb.options }).map(([name, spec]) => [
    `  --${name}${spec.value === undefined ? '' : ` ${spec.value}`}`,
    `${spec.about}${spec.isRequired ? ' (needed)' : ''}`,
  ])
  return [
    `waybench ${verb.name}${verb.operand === undefined ? '' : ` ${verb.operand}`} …: ${verb.about}`,
    '',
    columns(options),
    '',
    `Example: ${verb.example}`,
  ].join('\n')
}
