import { useEffect, useMemo, useState } from 'react'
import { joinRounds } from '../../core/pipeline/index.ts'
import type { JoinAsk, JoinLines, JoinProgress, JoinTo, PosedEnd } from '../../core/pipeline/index.ts'
import type { Network } from '../../core/network/types.ts'

/** What is to be joined, by its identity: another ask is another join. */
export interface JoinAsked {
  readonly network: Network
  readonly from: PosedEnd
  readonly to: JoinTo
  readonly ask: JoinAsk
}

export interface Joining {
  /** The lines, while places are still looked at those so far; null: none was asked for. */
  readonly answer: JoinLines | null
  readonly running: Pick<JoinProgress, 'done' | 'of'> | null
}

/** Work goes on for so long before the screen has its turn, ms: under one frame. */
const sliceMs = 10

/** What was found so far is shown no oftener than this, ms: sorting out what looks alike takes some of them. */
const shownEveryMs = 250

/**
 * The lines of a join. A pair of ends is answered at once, and held against the room in the next moment; the many places of a track are
 * looked at between two frames each, and what is found is shown as it comes.
 */
export function useJoin(asked: JoinAsked | null): Joining {
  const begun = useMemo(() => (asked === null ? null : joinBegun(asked)), [asked])
  const [heard, setHeard] = useState<{ readonly of: Begun; readonly joining: Joining } | null>(null)

  useEffect(() => {
    if (begun === null || begun.joining.running === null) return undefined
    const of = begun
    let timer: ReturnType<typeof setTimeout> | null = null
    let shownMs = performance.now()
    const goOn = (): void => {
      const joining = joinSlice(of)
      const nowMs = performance.now()
      if (joining.running === null) setHeard({ of, joining })
      else {
        const isTime = nowMs - shownMs >= shownEveryMs
        if (isTime || joining.answer !== null) {
          shownMs = nowMs
          setHeard({ of, joining: { ...joining, answer: joining.answer ?? of.last?.soFar() ?? null } })
        }
        timer = setTimeout(goOn, 0)
      }
    }
    timer = setTimeout(goOn, 0)
    return () => {
      if (timer !== null) clearTimeout(timer)
    }
  }, [begun])

  if (begun === null) return { answer: null, running: null }
  return heard?.of === begun ? heard.joining : begun.joining
}

/** A join under way: its rounds, the last word of them, and how it stood when it was begun. */
interface Begun {
  readonly rounds: ReturnType<typeof joinRounds>
  last: JoinProgress | null
  joining: Joining
}

function joinBegun({ network, from, to, ask }: JoinAsked): Begun {
  const begun: Begun = {
    rounds: joinRounds({ plan: network.plan, network }, from, to, ask),
    last: null,
    joining: { answer: null, running: null },
  }
  begun.joining = joinSlice(begun)
  return begun
}

/** One slice of work. What there is before it is held against the room is worth a look. */
function joinSlice(begun: Begun): Joining {
  const untilMs = performance.now() + sliceMs
  for (;;) {
    const next = begun.rounds.next()
    if (next.done === true) return { answer: next.value, running: null }
    const { value } = next
    begun.last = value
    if (value.done === value.of) return { answer: value.soFar(), running: value }
    if (performance.now() >= untilMs) return { answer: null, running: value }
  }
}
