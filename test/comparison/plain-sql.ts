import { sql } from 'drizzle-orm'
import type { Tx } from '../../src/db/database.ts'

export interface PlainTotals {
  readonly method: string
  readonly bedAreaCm2: number
  readonly marketableG: number
  readonly unmarketableG: number
  readonly minutes: number
  readonly costMinor: number
  readonly plantedAreaCm2: number
}

/**
 * The same totals asked of the database in one plain query, written for this check alone and sharing nothing with the
 * service: a bed's own method before its garden's; shared crates by area; hours shared over gardens by area and then over
 * beds; costs in equal whole parts over their seasons and then over beds. Every division gives whole parts by largest
 * remainder, of equal remainders the first in order.
 */
export async function totalsInPlainSql(tx: Tx, seasonId: string): Promise<PlainTotals[]> {
  const answer = await tx.execute(sql`
    with bed as (
      select b.*, row_number() over (order by b.position, b.id) as place,
        coalesce(
          (select a.method_id from method_assignments a where a.season_id = ${seasonId} and a.bed_id = b.id and a.removed_at is null),
          (select a.method_id from method_assignments a where a.season_id = ${seasonId} and a.garden_id = b.garden_id and a.bed_id is null and a.removed_at is null)
        ) as method_id
      from beds b where b.removed_at is null
    ),
    crate_part as (
      select h.id, s.planting_id, h.marketable_g as good, h.unmarketable_g as bad, p.area_cm2 as weight,
        sum(p.area_cm2) over (partition by h.id) as whole, row_number() over (partition by h.id order by s.planting_id) as place
      from harvests h join harvest_shares s on s.harvest_id = h.id join plantings p on p.id = s.planting_id
      where h.removed_at is null and h.share_rule = 'area'
    ),
    crate as (
      select planting_id,
        div(good::numeric * weight, whole) + (row_number() over (partition by id order by mod(good::numeric * weight, whole) desc, place)
          <= good - sum(div(good::numeric * weight, whole)) over (partition by id))::int as good,
        div(bad::numeric * weight, whole) + (row_number() over (partition by id order by mod(bad::numeric * weight, whole) desc, place)
          <= bad - sum(div(bad::numeric * weight, whole)) over (partition by id))::int as bad
      from crate_part
    ),
    picked as (
      select planting_id, marketable_g::numeric as good, unmarketable_g::numeric as bad from harvests
      where removed_at is null and planting_id is not null
      union all select planting_id, good, bad from crate
    ),
    garden_area as (select garden_id, sum(area_cm2) as area from bed group by garden_id),
    hours_part as (
      select l.id, s.garden_id, l.person_minutes as total, g.area as weight, sum(g.area) over (partition by l.id) as whole,
        row_number() over (partition by l.id order by s.garden_id) as place
      from labour_entries l join labour_shares s on s.labour_entry_id = l.id join garden_area g on g.garden_id = s.garden_id
      where l.season_id = ${seasonId} and l.removed_at is null and l.share_rule = 'area'
    ),
    spread as (
      select a.id, a.garden_id, a.bed_id, i.useful_life_seasons as life,
        div(2 * (d.price_minor + d.delivery_price_minor)::numeric * a.quantity_thousandths + d.quantity_thousandths, 2 * d.quantity_thousandths) as cost,
        (select count(*) from seasons s where s.starts_on > (select starts_on from seasons where id = a.season_id)
          and s.starts_on <= (select starts_on from seasons where id = ${seasonId}))
          - (select count(*) from seasons s where s.starts_on <= (select starts_on from seasons where id = a.season_id)
          and s.starts_on > (select starts_on from seasons where id = ${seasonId})) as age
      from applications a join deliveries d on d.id = a.delivery_id join inputs i on i.id = d.input_id
      where a.removed_at is null
    ),
    amount as (
      select 'minutes' as kind, l.id, l.garden_id, l.bed_id, l.person_minutes::numeric as total from labour_entries l
      where l.season_id = ${seasonId} and l.removed_at is null and l.share_rule is null
      union all
      select 'minutes', id, garden_id, null::uuid,
        div(total::numeric * weight, whole) + (row_number() over (partition by id order by mod(total::numeric * weight, whole) desc, place)
          <= total - sum(div(total::numeric * weight, whole)) over (partition by id))::int
      from hours_part
      union all
      select 'cost', id, garden_id, bed_id, div(cost, life) + (age < mod(cost, life))::int from spread where age >= 0 and age < life
    ),
    over_beds as (
      select a.kind, a.id, a.garden_id as of_garden, b.id as bed_id, b.method_id, a.total, b.area_cm2 as weight, b.place,
        sum(b.area_cm2) over (partition by a.kind, a.id, a.garden_id) as whole
      from amount a join bed b on b.id = a.bed_id or (a.bed_id is null and b.garden_id = a.garden_id)
    ),
    bed_part as (
      select kind, method_id,
        div(total * weight, whole) + (row_number() over (partition by kind, id, of_garden order by mod(total * weight, whole) desc, place)
          <= total - sum(div(total * weight, whole)) over (partition by kind, id, of_garden))::int as part
      from over_beds
    )
    select m.name as method,
      (select sum(area_cm2) from bed where bed.method_id = m.id) as bed_area,
      coalesce((select sum(k.good) from picked k join plantings p on p.id = k.planting_id join bed on bed.id = p.bed_id
        where bed.method_id = m.id and p.season_id = ${seasonId}), 0) as good,
      coalesce((select sum(k.bad) from picked k join plantings p on p.id = k.planting_id join bed on bed.id = p.bed_id
        where bed.method_id = m.id and p.season_id = ${seasonId}), 0) as bad,
      coalesce((select sum(part) from bed_part where kind = 'minutes' and method_id = m.id), 0) as minutes,
      coalesce((select sum(part) from bed_part where kind = 'cost' and method_id = m.id), 0) as cost,
      coalesce((select sum(p.area_cm2) from plantings p join bed on bed.id = p.bed_id
        where bed.method_id = m.id and p.season_id = ${seasonId}), 0) as planted
    from methods m where exists (select from bed where bed.method_id = m.id) order by m.name collate "C"`)
  const rows = (answer as unknown as { rows: Record<string, string>[] }).rows
  return rows.map((row) => ({
    method: row.method ?? '',
    bedAreaCm2: Number(row.bed_area),
    marketableG: Number(row.good),
    unmarketableG: Number(row.bad),
    minutes: Number(row.minutes),
    costMinor: Number(row.cost),
    plantedAreaCm2: Number(row.planted),
  }))
}
