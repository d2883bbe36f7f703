import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { type Stored, storeOnce } from '../db/store-once.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { spreadingLimits } from './limits.table.ts'
import type { LimitedNutrient, LimitedSource } from './limits.ts'

/** What the group has written down of its local rules, by their days. */
export const spreadingLimitsOf = (tx: Tx, groupId: string) =>
  tx
    .select({
      id: spreadingLimits.id,
      source: spreadingLimits.source,
      nutrient: spreadingLimits.nutrient,
      mostMgPerM2: spreadingLimits.mostMgPerM2,
      from: spreadingLimits.fromDay,
      rule: spreadingLimits.rule,
    })
    .from(spreadingLimits)
    .where(and(eq(spreadingLimits.groupId, groupId), isNull(spreadingLimits.removedAt)))
    .orderBy(asc(spreadingLimits.fromDay), asc(spreadingLimits.id))

interface NewLimit {
  readonly id: string
  readonly source: LimitedSource
  readonly nutrient: LimitedNutrient
  readonly mostMgPerM2: number | null
  readonly rule: string
  readonly fromDay: IsoDate
}

export const saveLimit = (tx: Tx, author: Author, given: NewLimit): Promise<Stored> =>
  storeOnce(tx, spreadingLimits, { ...author, ...given })
