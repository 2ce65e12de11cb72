import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, within } from '@testing-library/react'
import { afterEach, expect, it } from 'vitest'
import { TrackChart } from '../../src/app/chart/TrackChart.tsx'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

it('a radius that does not fit is told with the one that would; the chart keeps its last line, and a button makes one again', async () => {
  const { stores } = renderOnDesk(<TrackChart />)
  const chart = screen.getByRole('region', { name: 'Track chart of Harbour line' })
  act(
    () =>
      void stores.plan.getState().apply({
        kind: 'corner.set',
        track: 'track-1',
        corner: 'pi-1',
        change: { radius: 3 * 25.4, easementIn: 'class', easementOut: 'class' },
      }),
  )
  // Two easements of 12 in turn a right angle at 24 / pi = 7.64 in; Main asks 28 in here.
  expect(
    await within(chart).findByText(
      /^Radius 3 in at PI 1 is too small by 4.+ in: the easements of its class ask for at least 7.+ in\. Main asks for 28 in\./,
    ),
  ).toHaveTextContent('stands the last line that fits')
  const last = chart.querySelector('.chart-last')
  expect(last?.querySelector('.turnout-mark')).not.toBeNull()
  expect(last).toHaveAttribute('inert')
  await hand.click(within(chart).getByRole('button', { name: 'Make it 28 in' }))
  await hand.click(await screen.findByRole('button', { name: 'Apply' }))
  expect(stores.plan.getState().plan.tracks['track-1']?.corners[0]?.radius).toBeCloseTo(28 * 25.4, 6)
  expect(chart.querySelector('.chart-last')).toBeNull()
})
