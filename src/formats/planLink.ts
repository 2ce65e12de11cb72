import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate'
import type { Plan } from '../core/plan/index.ts'
import { planRead, planWrite } from './planjson.ts'
import type { PlanFileResult } from './planjson.ts'

/*
 * A small plan carried in the fragment of an address: the text of its file without white space, deflated (RFC 1951), in the alphabet for
 * addresses of RFC 4648, section 5. A fragment is not sent to a server.
 */

/** Longer links are cut by what people send them with: common practice, no source. */
export const linkLimit = 32_000

const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_'

/** The plan as text for a link. It may be longer than the limit: the caller says so. */
export function planLinkWrite(plan: Plan): string {
  return base64Write(deflateSync(strToU8(JSON.stringify(JSON.parse(planWrite(plan)))), { level: 9 }))
}

/** Domain: any text. Outcome: the plan, or why there is none. Throws: never. */
export function planLinkRead(text: string): PlanFileResult {
  if (text.length > linkLimit)
    return unreadable(`it has ${text.length} characters, and a link has at most ${linkLimit}. Have the plan sent as a file.`)
  const bytes = base64Read(text)
  if (bytes === null) return unreadable('it has a character that no link has.')
  try {
    // DEFLATE makes at most 1032 bytes of one: within the limit of a link no text grows beyond that of a plan file.
    return planRead(strFromU8(inflateSync(bytes)))
  } catch {
    return unreadable('it is not whole: a part was lost on the way.')
  }
}

const unreadable = (reason: string): PlanFileResult => ({ ok: false, problem: { kind: 'unreadable', reason } })

function base64Write(bytes: Uint8Array): string {
  let text = ''
  for (let at = 0; at < bytes.length; at += 3) {
    const [a = 0, b = 0, c = 0] = bytes.subarray(at, at + 3)
    const bits = (a << 16) | (b << 8) | c
    const count = Math.min(bytes.length - at, 3) + 1
    for (let i = 0; i < count; i++) text += alphabet.charAt((bits >> (18 - 6 * i)) & 63)
  }
  return text
}

/** null: a character is not of the alphabet. */
function base64Read(text: string): Uint8Array | null {
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4))
  let [bits, held, at] = [0, 0, 0]
  for (const character of text) {
    const value = alphabet.indexOf(character)
    if (value < 0) return null
    bits = ((bits << 6) | value) & 0xffffff
    held += 6
    if (held < 8) continue
    held -= 8
    bytes[at] = (bits >> held) & 255
    at += 1
  }
  return bytes
}
