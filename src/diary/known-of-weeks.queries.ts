import { and, eq, inArray, isNotNull, isNull, sql } from 'drizzle-orm'
import { atOnce } from '../db/at-once.ts'
import type { Tx } from '../db/database.ts'
import { rowsRead } from '../db/rows-read.ts'
import { gardens } from '../gardens/gardens.table.ts'
import { firstOf } from '../lookups/nth.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { harvestShares, harvests, weekClosings } from './diary.table.ts'
import { labelKey, sealedKey } from './known.ts'
import { labelsOf } from './sealed.queries.ts'

/** What was closed and weighed in some weeks, and under which labels; most groups have none. */
export async function knownOfWeeks(tx: Tx, groupId: string, weeks: readonly IsoWeek[], labelled: Promise<boolean>) {
  const each = [...new Set(weeks)]
  const labelsIn = async () =>
    (await labelled) ? (await atOnce(each.map((week) => labelsOf(tx, groupId, week)))).flat() : []
  const [{ closed, weighed, picked }, labels] = await atOnce([closedAndWeighed(tx, groupId, each), labelsIn()])
  const sealed = labels.filter((one) => one.sealed)
  const hidden = new Set(sealed.map((one) => one.plantingId))
  return {
    closed: new Set(closed),
    labels: new Map(labels.map((one) => [labelKey(one.label, one.isoWeek), one])),
    sealed: new Map(sealed.map((one) => [sealedKey(one.plantingId, one.isoWeek), one.label])),
    weighed,
    picked: new Set(picked.filter((id) => !hidden.has(id))),
  }
}

/**
 * As `closedKey` and `weighedKey` say it: several hundred rows of a week are put together by the database in a tenth of
 * what it takes to read them one by one. Plantings of crates from several were picked too.
 */
async function closedAndWeighed(tx: Tx, groupId: string, weeks: readonly IsoWeek[]) {
  const { id, plantingId, harvestedOn, marketableG, unmarketableG } = harvests
  const inWeeks = and(eq(harvests.groupId, groupId), inArray(harvests.isoWeek, weeks), isNull(harvests.removedAt))
  const alone = sql`from ${harvests} where ${and(inWeeks, isNotNull(plantingId))}`
  const shared = sql`from ${harvestShares} join ${harvests} on ${and(inWeeks, eq(id, harvestShares.harvestId))}
    where ${and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt))}`
  // By garden, as their index has them: of ten years there are thousands.
  const closings = and(
    eq(weekClosings.groupId, groupId),
    eq(weekClosings.gardenId, gardens.id),
    inArray(weekClosings.isoWeek, weeks),
    isNull(weekClosings.reopenedAt),
  )
  const asked = sql`select
    (select json_agg(concat_ws(' ', ${weekClosings.what}, ${weekClosings.gardenId}, ${weekClosings.isoWeek}))
      from ${gardens} join ${weekClosings} on ${closings} where ${eq(gardens.groupId, groupId)}) as closed,
    (select json_object_agg(key, ids) from (
      select concat_ws(' ', ${plantingId}, ${harvestedOn}, ${marketableG}, ${unmarketableG}) as key,
        json_agg(${id} order by ${id}) as ids ${alone} group by 1) as one)::text as weighed,
    (select json_agg(picked) from (
      select ${plantingId} as picked ${alone} union select ${harvestShares.plantingId} ${shared}) as one) as picked`
  const found = await rowsRead(tx, asked, ({ closed, weighed, picked }) => ({
    closed: textsIn(closed),
    weighed: new Weighed(weighed),
    picked: textsIn(picked),
  }))
  return firstOf(found)
}

/** Read where it is looked into: whoever says of all weights that they are right asks for none that stands alike. */
class Weighed {
  private readonly said: unknown
  private ids: ReadonlyMap<string, readonly string[]> | null = null

  /** Lists of ids by their key, as a text in JSON; null where nothing was weighed. */
  constructor(said: unknown) {
    this.said = said
  }

  get(key: string): readonly string[] | undefined {
    this.ids ??= this.read()
    return this.ids.get(key)
  }

  private read() {
    const found: unknown = this.said === null ? {} : JSON.parse(String(this.said))
    return new Map(Object.entries(found ?? {}).map(([key, ids]) => [key, textsIn(ids)]))
  }
}

/** Nothing stands for an empty list. */
const textsIn = (list: unknown): string[] => (Array.isArray(list) ? list.map(String) : [])
