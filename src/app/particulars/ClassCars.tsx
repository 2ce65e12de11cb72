import type { ReactNode } from 'react'
import type { Id, LineClass } from '../../core/plan/types.ts'
import { usePlan } from '../context.ts'

/** The worst that runs on a class: clearance, couplers and lengths are held against all of them. */
export function ClassCars({
  lineClass,
  onCars,
}: {
  readonly lineClass: LineClass
  readonly onCars: (cars: readonly Id[]) => void
}): ReactNode {
  const vehicles = usePlan((state) => state.plan.vehicles)
  const { cars } = lineClass
  return (
    <fieldset className="fields-part">
      <legend>Worst cars</legend>
      <p className="soft small">
        {cars.length === 0 ? 'None: track centres stand for them.' : 'Clearance, couplers and curves are held against these.'}
      </p>
      {Object.values(vehicles).map(({ id, name }) => (
        <label key={id} className="tick">
          <input
            type="checkbox"
            checked={cars.includes(id)}
            onChange={(event) =>
              onCars(
                event.currentTarget.checked
                  ? Object.keys(vehicles).filter((one) => one === id || cars.includes(one))
                  : cars.filter((one) => one !== id),
              )
            }
          />{' '}
          {name}
        </label>
      ))}
    </fieldset>
  )
}
