import { type SQL, sql } from 'drizzle-orm'
import type { Database } from '../../src/db/database.ts'
import { type LargeGroup, largeGroup, type Size } from './large-group.ts'

/**
 * An invented group with whatever divides, moves or leaves out what is summed: crates from several plantings, hours over
 * gardens, beds and phases, split gardens, a nursery, losses, open weeks, second readings, entries from paper and late.
 * The same rows for the same number.
 */
export async function oddGroup(database: Database, size: Size, number: number): Promise<LargeGroup> {
  const group = await largeGroup(database, size, number)
  const { slug, personId } = group
  const id = (what: SQL) => sql`overlay(overlay(md5(${slug} || ${what}) placing '8' from 13) placing '8' from 17)::uuid`
  const g = sql`${group.groupId}::uuid`
  const run = (statement: SQL) => database.drizzle.execute(statement)
  const years = sql`generate_series(${2026 - size.seasons}::int, 2025) y`
  const picked = (of: SQL, share: number) =>
    sql`('x' || left(md5(${number} || ${of}::text), 7))::bit(28)::int % ${share}::int = 0`
  await run(sql`update methods set establishing_seasons = 3 where group_id = ${g} and position = 1`)
  await run(sql`update crops set regrows = 1 where group_id = ${g} and name in ('crop 3', 'crop 4')`)
  await run(sql`insert into method_assignments
      (group_id, id, season_id, garden_id, bed_id, method_id, phase, year_of_method, how, random_seed)
    select ${g}, ${id(sql`'half' || y || b`)}, ${id(sql`'season' || y`)}, ${id(sql`'garden0'`)}, ${id(sql`'bed0-' || b`)},
      ${id(sql`'method1'`)}, case b when 7 then 'establishing' else 'established' end, 2, 'random', 'drawn'
    from ${years}, generate_series(4, 7) b`)
  await run(sql`update method_assignments set phase = 'establishing'
    where group_id = ${g} and bed_id is null and garden_id = ${id(sql`'garden1'`)} and ${picked(sql`season_id`, 2)}`)
  await run(sql`update plantings set matched_set_id = null where group_id = ${g} and ${picked(sql`id`, 17)}`)
  await run(sql`update plantings set cleared_on = null where group_id = ${g}
    and season_id = ${id(sql`'season2025'`)} and ${picked(sql`id`, 23)}`)
  await run(sql`update plantings set area_cm2 = 11000 where group_id = ${g} and bed_id = ${id(sql`'bed2-1'`)}`)
  await run(sql`update plantings set stands_over_seasons = 1, establishing_seasons = 1, cleared_on = null, area_cm2 = 9000
    where group_id = ${g} and season_id = ${id(sql`'season' || ${2026 - size.seasons}::int`)}
      and bed_id = ${id(sql`'bed2-1'`)} and ${picked(sql`cultivar_id`, 2)}`)
  await run(sql`update plantings set raised_in_bed_id = ${id(sql`'bed0-2'`)}, how = 'transplanted', planted_on = sown_on
    where group_id = ${g} and season_id = ${id(sql`'season2025'`)} and bed_id <> ${id(sql`'bed0-2'`)}
      and ${picked(sql`id`, 29)}`)
  await run(sql`insert into losses (group_id, id, planting_id, lost_on, iso_week, share_permille, cause, outside_method, also_next_door)
    select ${g}, ${id(sql`'loss' || id || part`)}, id, sown_on + 40 + part, to_char(sown_on + 40 + part, 'IYYY"-W"IW'),
      case when ${picked(sql`id || part`, 4)} then 1000 else 137 * part end,
      (array['pest', 'weather', 'unknown'])[part], case part when 2 then 1 else 0 end,
      (array['yes', 'no', null])[part]
    from plantings, generate_series(1, 3) part where group_id = ${g} and ${picked(sql`id || 'lost'`, 19)}`)
  await run(sql`update harvests set planting_id = null, share_rule = case when marketable_g % 2 = 0 then 'area' else 'given' end
    where group_id = ${g} and ${picked(sql`id`, 31)}`)
  await run(sql`insert into harvest_shares (group_id, id, harvest_id, planting_id, share)
    select ${g}, ${id(sql`'part' || h.id || p.id`)}, h.id, p.id, (h.marketable_g % 5) + row_number() over (partition by h.id order by p.id)
    from harvests h join lateral (select id from plantings p where p.group_id = ${g} and p.season_id = h.season_id
      order by md5(h.id::text || p.id::text) limit 3) p on true
    where h.group_id = ${g} and h.planting_id is null`)
  await run(
    sql`update harvests set counts = 0, state = 'dried' where group_id = ${g} and ${picked(sql`id || 'dry'`, 37)}`,
  )
  await run(sql`update harvests set removed_at = now(), removed_reason = 'twice'
    where group_id = ${g} and planting_id is not null and ${picked(sql`id || 'gone'`, 41)}`)
  await run(sql`update harvests set source = 'paper' where group_id = ${g} and ${picked(sql`id || 'paper'`, 3)}`)
  await run(sql`update harvests set created_at = harvested_on + interval '3 days'
    where group_id = ${g} and ${picked(sql`id || 'soon'`, 2)}`)
  await run(sql`update labour_entries set created_at = coalesce(worked_on, '2025-06-01') + interval '3 days', source = 'paper'
    where group_id = ${g} and ${picked(sql`id || 'soon'`, 2)}`)
  await run(sql`update labour_entries set worked_on = null where group_id = ${g} and ${picked(sql`id || 'day'`, 7)}`)
  await run(sql`update labour_entries set who = (array['Ada', 'Bo', 'Cy'])[1 + person_minutes % 3]
    where group_id = ${g} and ${picked(sql`id || 'who'`, 2)}`)
  await run(sql`update labour_entries set phase = null where group_id = ${g} and ${picked(sql`id || 'phase'`, 5)}`)
  await run(
    sql`update labour_entries set phase = 'establishing' where group_id = ${g} and ${picked(sql`id || 'new'`, 11)}`,
  )
  await run(sql`update labour_entries l set garden_id = null, bed_id = b.id from beds b
    where l.group_id = ${g} and b.group_id = ${g} and b.garden_id = l.garden_id
      and b.name = 'Bed ' || (l.person_minutes % 8) and ${picked(sql`l.id || 'bed'`, 6)}`)
  await run(sql`update labour_entries l set garden_id = null, planting_id = p.id
    from (select distinct on (season_id) season_id, id from plantings where group_id = ${g} order by season_id, id) p
    where l.group_id = ${g} and l.garden_id is not null and p.season_id = l.season_id and ${picked(sql`l.id || 'crop'`, 9)}`)
  await run(sql`update labour_entries set garden_id = null, share_rule = (array['area', 'equal', 'given'])[1 + person_minutes % 3]
    where group_id = ${g} and garden_id is not null and ${picked(sql`id || 'over'`, 8)}`)
  await run(sql`insert into labour_shares (group_id, id, labour_entry_id, garden_id, share)
    select ${g}, ${id(sql`'over' || l.id || n`)}, l.id, ${id(sql`'garden' || n`)}, 1 + n
    from labour_entries l, generate_series(0, 2) n where l.group_id = ${g} and l.share_rule in ('area', 'equal')`)
  await run(sql`insert into labour_shares (group_id, id, labour_entry_id, garden_id, bed_id, share)
    select ${g}, ${id(sql`'beds' || l.id || b`)}, l.id, ${id(sql`'garden0'`)}, ${id(sql`'bed0-' || b`)}, 1
    from labour_entries l, generate_series(3, 6) b
    where l.group_id = ${g} and l.share_rule = 'given' and l.person_minutes % 2 = 0`)
  await run(sql`insert into labour_shares (group_id, id, labour_entry_id, garden_id, share)
    select ${g}, ${id(sql`'over' || l.id || n`)}, l.id, ${id(sql`'garden' || n`)}, 1 + n * n
    from labour_entries l, generate_series(0, 4) n
    where l.group_id = ${g} and l.share_rule = 'given' and l.person_minutes % 2 = 1`)
  await run(sql`update week_closings set reopened_at = now(), reopened_reason = 'more came'
    where group_id = ${g} and ${picked(sql`id`, number % 2 === 0 ? 14 : 5)}`)
  await run(sql`insert into second_readings (group_id, id, created_by, iso_week, planting_id, weighed_g)
    select distinct on (planting_id, iso_week) ${g}, ${id(sql`'again' || id`)}, ${personId}::uuid, iso_week, planting_id, marketable_g + 3
    from harvests where group_id = ${g} and planting_id is not null and removed_at is null and ${picked(sql`id || 'two'`, 43)}
    order by planting_id, iso_week, id`)
  await run(sql`update applications set phase = null where group_id = ${g} and ${picked(sql`id`, 3)}`)
  await run(sql`update deliveries set price_minor = null where group_id = ${g} and ${picked(sql`id`, 5)}`)
  await run(sql`update seasons set closed_at = null where group_id = ${g} and name = '2025'`)
  await run(sql`update inputs set useful_life_seasons = 2 where group_id = ${g}`)
  await run(sql`analyze`)
  return group
}
