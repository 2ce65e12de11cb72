/** What has to be done first, in the words of the finder. */
export const needs = {
  anyTrack: 'lay a track first',
  track: 'select a track first',
  turnout: 'select a turnout first',
  work: 'select a turnout or crossing first',
  end: 'select an end or a turnout first',
  stub: 'select a track that has just left its host first',
  openTrack: 'select a track with a free end first',
} as const
