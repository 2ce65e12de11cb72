import { boxOfPoints } from '../../core/geom/index.ts'
import type { StoreApi } from 'zustand/vanilla'
import { pointsRead, pointsTextMostBytes } from '../../formats/pointsText.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { viewportShow } from '../viewportShow.ts'
import { surveyWith } from './survey.ts'

/**
 * Takes the measured points of a file into the survey on the desk. With lines that are no points the whole list goes into the field, to be
 * mended there.
 *
 * Outcome: null, or why nothing was taken.
 */
export async function surveyFile(stores: Stores, desk: StoreApi<DeskState>, file: File): Promise<string | null> {
  if (file.size > pointsTextMostBytes)
    return `${file.name} is larger than ${pointsTextMostBytes / 1024 / 1024} MB; that is no list of points.`
  const text = await file.text()
  const { survey, set } = desk.getState()
  if (survey === null) return null
  const { points, faults } = pointsRead(text, survey.bare)
  if (points.length === 0) return `${file.name} holds no line that is a point.`
  if (faults.length > 0) {
    set({ survey: { ...survey, list: text } })
    return null
  }
  set({ survey: surveyWith(survey, points) })
  viewportShow(stores, boxOfPoints([...survey.places, ...points]))
  return null
}
