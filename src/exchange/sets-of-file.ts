import { sent } from '../lookups/unsaid.ts'
import { type IsoDate, readDate } from '../quantities/dates.ts'

/** A planting that a file brings, as far as its matched set goes. */
export interface SetsBrought {
  readonly id: string
  readonly line: number
  /** Crop and cultivar, so that the same of both is the same text. */
  readonly cultivar: string
  readonly cultivarName: string
  readonly seasonId: string
  readonly bedId: string
  readonly purpose: string
  readonly day: IsoDate | null
  /** As the file names it; blank where it does not. */
  readonly setName: string
}

export interface SetThere {
  readonly id: string
  readonly cultivar: string
  readonly seasonId: string
  readonly name: string
  readonly windowFrom: IsoDate | null
  readonly windowTo: IsoDate | null
}

/** A set that the file makes, of two plantings or more. */
interface SetMade {
  readonly first: SetsBrought
  readonly name: string
  readonly members: readonly SetsBrought[]
}

export interface SetsOfFile {
  /** The set that stands already, by the planting that joins it. */
  readonly joins: ReadonlyMap<string, string>
  readonly made: readonly SetMade[]
  /** Plantings for harvest that are compared with nothing. */
  readonly unmatched: readonly SetsBrought[]
}

/**
 * Which matched set each planting of a file comes into. By the name that the file gives, or else by the rule of the
 * plan: one cultivar, sown or planted on one day, in two beds or more of one season. A set that stands already is
 * joined, by its name or where its window holds the day. Only what is for harvest is matched.
 */
export function setsOfFile(brought: readonly SetsBrought[], there: readonly SetThere[]): SetsOfFile {
  const joins = new Map<string, string>()
  const groups = new Map<string, SetsBrought[]>()
  for (const one of brought) {
    if (one.purpose !== 'harvest') continue
    const set = there.find((candidate) => isOf(candidate, one))
    if (set) joins.set(one.id, set.id)
    else {
      const key = JSON.stringify([one.seasonId, one.cultivar, plain(one.setName) || one.day])
      groups.set(key, [...(groups.get(key) ?? []), one])
    }
  }
  const made: SetMade[] = []
  const unmatched: SetsBrought[] = []
  for (const members of groups.values()) {
    const [first] = members
    if (first && new Set(members.map((one) => one.bedId)).size > 1) {
      made.push({ first, members, name: first.setName || first.cultivarName })
    } else unmatched.push(...members)
  }
  return { joins, made, unmatched: unmatched.sort((a, b) => a.line - b.line) }
}

const plain = (name: string) => name.trim().toLowerCase()

function isOf(set: SetThere, one: SetsBrought): boolean {
  if (set.seasonId !== one.seasonId || set.cultivar !== one.cultivar) return false
  if (one.setName !== '') return plain(set.name) === plain(one.setName)
  if (set.windowFrom === null || set.windowTo === null || one.day === null) return false
  return set.windowFrom <= one.day && one.day <= set.windowTo
}

/** Crop and cultivar as one text, as a line of a file and a set of the record are told to be of the same. */
export const cultivarKey = (cropId: string, cultivar: string) => `${cropId} ${cultivar}`

/** A line's planting, as it would be stored, as far as its matched set goes. */
export function setsBroughtBy(row: Readonly<Record<string, unknown>>, line: number): SetsBrought {
  const said = (name: string) => sent(row[name])
  return {
    id: said('id'),
    line,
    cultivar: cultivarKey(said('cropId'), said('cultivar')),
    setName: said('setName'),
    cultivarName: said('cultivar'),
    seasonId: said('seasonId'),
    bedId: said('bedId'),
    purpose: said('purpose'),
    day: readDate(said('sownOn') || said('plantedOn')) ?? null,
  }
}
