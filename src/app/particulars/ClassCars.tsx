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
  /** In the order of the list, however they were ticked. */
  const carsWith = (id: Id, isWanted: boolean): readonly Id[] =>
    Object.keys(vehicles).filter((one) => (one === id ? isWanted : cars.includes(one)))
  return (
    <section className="fields-part" role="group" aria-label="Worst cars">
      <h3>Worst cars</h3>
      <p className="soft small">
        {cars.length === 0 ? 'None: track centres stand for them.' : 'Clearance, couplers and curves are held against these.'}
      </p>
      <ul className="ticks">
        {Object.values(vehicles).map(({ id, name }) => (
          <li key={id}>
            <label>
              <input type="checkbox" checked={cars.includes(id)} onChange={(event) => onCars(carsWith(id, event.currentTarget.checked))} />
              {name}
            </label>
          </li>
        ))}
      </ul>
    </section>
  )
}
