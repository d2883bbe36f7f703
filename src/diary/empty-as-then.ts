import { tareThen } from './container-rule.ts'
import type { Known } from './known.ts'

interface Weighed {
  readonly containerId: string | null
  readonly grossG: number | null
  readonly marketableG: number
  readonly unmarketableG: number
}

/** Its own container weighs what it weighed then: whatever it weighs by now is said on the container's page. */
export function emptyAsThen(known: Known, { containerId, grossG, marketableG, unmarketableG }: Weighed): Known {
  if (containerId === null || grossG === null) return known
  const tareG = tareThen({ marketableG, unmarketableG, grossG })
  return { ...known, containers: new Map(known.containers).set(containerId, tareG) }
}
