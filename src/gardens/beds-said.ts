import { type AreaUnit, readArea } from '../quantities/areas.ts'
import { type Reading, read, unreadable } from '../quantities/decimals.ts'

export interface BedsSaid {
  readonly count: number
  /** Of each; null where it was not said. */
  readonly areaCm2: number | null
}

const mostBeds = 60

/** Reads how many beds a garden has, and their size where it is said: "6", "6 of 8 m2", "6 of 1.2 x 7 m". */
export function readBeds(text: string, unitWithout: AreaUnit): Reading<BedsSaid> {
  if (text.trim() === '') return unreadable('empty')
  const said = text.trim().replace(/\s+/g, ' ')
  const found = /^(\d{1,3}) ?(?:beds? ?)?(?:(?:of|at|à|zu|×|x|@)(.+))?$/i.exec(said)
  // What is not read as a number of beds names none, and is refused.
  const count = Number(found?.[1] ?? 0)
  if (!found || count > mostBeds) return unreadable('not-a-number')
  if (count === 0) return unreadable('zero')
  if (found[2] === undefined) return read({ count, areaCm2: null })
  const area = readArea(found[2], unitWithout)
  return area.kind === 'refused' ? area : read({ count, areaCm2: Number(area.value) })
}
