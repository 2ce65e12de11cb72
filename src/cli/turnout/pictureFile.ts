import { workPicture, type PictureSubject } from '../../core/deliver/index.ts'
import { svgFromSheet } from '../../formats/svg.ts'
import type { Answer } from '../answer.ts'
import type { Args } from '../args.ts'
import { outPath } from '../outFile.ts'

/** The picture that --svg asks for; no file without it. Throws BadInput. */
export function pictureFiles(args: Args, subject: PictureSubject, title: string): Answer['files'] {
  if (!args.values.has('svg')) return []
  return [{ path: outPath(args, 'svg'), bytes: new TextEncoder().encode(svgFromSheet(workPicture(subject, title))) }]
}
