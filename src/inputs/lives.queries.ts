import { and, eq, isNull, lt, or, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { seasons } from '../seasons/seasons.table.ts'
import { applications, deliveries } from './inputs.table.ts'

interface Changed {
  readonly groupId: string
  readonly inputId: string
  /** How many seasons it lasted until now. */
  readonly before: number
  /** What was spread from that day on lasts otherwise; null: all that was spread in seasons that are open. */
  readonly since: IsoDate | null
}

/** Another useful life of an input holds from a day: what was spread before, or in a closed season, keeps its own. */
export async function keepLives(tx: Tx, { groupId, inputId, before, since }: Changed): Promise<void> {
  const ofInput = sql`${applications.deliveryId} in (select ${deliveries.id} from ${deliveries}
    where ${deliveries.groupId} = ${groupId} and ${deliveries.inputId} = ${inputId})`
  const isClosed = sql`exists (select from ${seasons} where ${seasons.groupId} = ${groupId}
    and ${seasons.id} = ${applications.seasonId} and ${seasons.closedAt} is not null)`
  const keeps = since === null ? isClosed : or(isClosed, lt(applications.appliedOn, since))
  const own = and(eq(applications.groupId, groupId), ofInput)
  await tx
    .update(applications)
    .set({ usefulLifeSeasons: before, version: sql`${applications.version} + 1` })
    .where(and(own, isNull(applications.usefulLifeSeasons), keeps))
  await tx
    .update(applications)
    .set({ usefulLifeSeasons: null, version: sql`${applications.version} + 1` })
    .where(and(own, sql`${applications.usefulLifeSeasons} is not null`, sql`not (${keeps})`))
}
