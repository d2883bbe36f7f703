import { sql } from 'drizzle-orm'
import type { Tx } from '../../src/db/database.ts'

export interface PlainTotals {
  readonly method: string
  readonly bedAreaCm2: number
  readonly marketableG: number
  readonly unmarketableG: number
  readonly minutes: number
  readonly plantedAreaCm2: number
}

/**
 * The same totals asked of the database in one plain query, written for this check alone and sharing nothing with the
 * service: whole gardens under one method, hours written by garden, each harvest of one planting.
 */
export async function totalsInPlainSql(tx: Tx, seasonId: string): Promise<PlainTotals[]> {
  const answer = await tx.execute(sql`
    with ground as (
      select m.name as method, b.id as bed_id, b.garden_id, b.area_cm2
      from method_assignments a
      join methods m on m.group_id = a.group_id and m.id = a.method_id
      join beds b on b.group_id = a.group_id and b.garden_id = a.garden_id
      where a.season_id = ${seasonId} and a.removed_at is null
    )
    select g.method,
      (select sum(area_cm2) from ground x where x.method = g.method) as bed_area,
      coalesce((select sum(h.marketable_g) from harvests h join plantings p on p.id = h.planting_id
        join ground x on x.bed_id = p.bed_id where x.method = g.method and p.season_id = ${seasonId} and h.removed_at is null), 0) as good,
      coalesce((select sum(h.unmarketable_g) from harvests h join plantings p on p.id = h.planting_id
        join ground x on x.bed_id = p.bed_id where x.method = g.method and p.season_id = ${seasonId} and h.removed_at is null), 0) as bad,
      coalesce((select sum(l.person_minutes) from labour_entries l where l.season_id = ${seasonId} and l.removed_at is null
        and l.garden_id in (select garden_id from ground x where x.method = g.method)), 0) as minutes,
      coalesce((select sum(p.area_cm2) from plantings p join ground x on x.bed_id = p.bed_id
        where x.method = g.method and p.season_id = ${seasonId}), 0) as planted
    from ground g group by g.method order by g.method`)
  const rows = (answer as unknown as { rows: Record<string, string>[] }).rows
  return rows.map((row) => ({
    method: row.method ?? '',
    bedAreaCm2: Number(row.bed_area),
    marketableG: Number(row.good),
    unmarketableG: Number(row.bad),
    minutes: Number(row.minutes),
    plantedAreaCm2: Number(row.planted),
  }))
}
