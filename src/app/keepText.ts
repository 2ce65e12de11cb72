import type { KeepStatus } from '../store/types.ts'

/** How it stands with the plan in this browser, in one line. */
export function keepText(status: KeepStatus): string {
  switch (status.kind) {
    case 'fresh':
      return 'Kept here once you change something'
    case 'waiting':
      return 'Being kept'
    case 'kept':
      return `Kept at ${clockText(new Date(status.atMs))}, here`
    case 'failed':
      return failedText(status.reason)
    case 'elsewhere':
      return status.hasOwn
        ? 'Another page keeps this plan. What you changed here is not kept.'
        : 'Another page keeps this plan; this one shows what is done there. What you change here is not kept.'
  }
}

function failedText(reason: Extract<KeepStatus, { kind: 'failed' }>['reason']): string {
  switch (reason) {
    case 'full':
      return 'Not kept: the room of this browser is full. Save the plan to a file.'
    case 'blocked':
      return 'Not kept: this browser lets pages keep nothing. Save the plan to a file.'
    case 'newer':
      return 'Not kept: a newer Waybench is open in another page. Save the plan to a file, then load this page again.'
    case 'older':
      return 'Not kept: a page with an older Waybench holds the plans. Close that page, then load this one again.'
    case 'slow':
      return 'Not kept yet: the browser does not answer. Save the plan to a file before you leave.'
    case 'other':
      return 'Not kept: the browser failed to write. Save the plan to a file.'
  }
}

function clockText(at: Date): string {
  return `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`
}
