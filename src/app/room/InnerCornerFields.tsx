import type { ReactNode } from 'react'
import { roomUsual } from '../../core/room/index.ts'
import type { InnerCorner } from '../../core/room/index.ts'
import { usePrefs } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'

/** What becomes of the corners of a front edge that turn into the room. */
export function InnerCornerFields({
  inner,
  onChange,
}: {
  readonly inner: InnerCorner
  readonly onChange: (inner: InnerCorner) => void
}): ReactNode {
  const { cornerMm } = roomUsual(usePrefs((prefs) => prefs.units))
  const sizeMm = inner.kind === 'cut' ? inner.byMm : inner.kind === 'eased' ? inner.radiusMm : cornerMm
  const of = (kind: InnerCorner['kind'], mm: number): InnerCorner =>
    kind === 'cut' ? { kind, byMm: mm } : kind === 'eased' ? { kind, radiusMm: mm } : { kind }
  return (
    <>
      <ChoiceField<InnerCorner['kind']>
        label="Inner corner"
        value={inner.kind}
        choices={[
          { value: 'square', text: 'left as it is' },
          { value: 'cut', text: 'cut off, at 45° where it is square' },
          { value: 'eased', text: 'rounded' },
        ]}
        onChoose={(kind) => onChange(of(kind, sizeMm))}
      />
      {inner.kind === 'square' ? null : (
        <LengthField
          label={inner.kind === 'cut' ? 'Cut off by' : 'Radius'}
          kind="room"
          value={sizeMm}
          origin={inner.kind === 'cut' ? 'along each front edge' : 'drawn in short sides, within 1 mm'}
          keep={keepIn((mm) => onChange(of(inner.kind, mm)))}
        />
      )}
    </>
  )
}
