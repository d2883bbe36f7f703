import { type SQL, sql } from 'drizzle-orm'
import { addPerson } from '../../src/accounts/members.queries.ts'
import type { Database } from '../../src/db/database.ts'

export interface Size {
  readonly seasons: number
  readonly harvests: number
  readonly labour: number
  /** Six of them where nothing is said, and thirty crops. */
  readonly gardens?: number
  readonly crops?: number
  /** The year of the last season, 2025 where nothing is said. */
  readonly last?: number
  /** Whether that season still runs: to the end of its year, its plantings stand and its last weeks are open. */
  readonly runs?: boolean
  /** With what every id ends, so that a copy of the group is its rows with another ending. */
  readonly idsEnd?: string
}

/** Ten seasons of six gardens, three a method, thirty matched crops in each: 1,800 plantings. */
export const tenYears: Size = { seasons: 10, harvests: 60_000, labour: 30_000 }

export interface LargeGroup {
  readonly groupId: string
  readonly slug: string
  readonly personId: string
  readonly email: string
}

export const password = 'long enough to keep'
const bedsOfGarden = 8

/**
 * An invented group of a given size, the same rows for the same number: written by SQL with its history on, so that it
 * stands there as a group would that had typed it. Every week is closed, and every season.
 */
export async function largeGroup(database: Database, size: Size, number = 1): Promise<LargeGroup> {
  const slug = `large-${number}`
  const email = `large-${number}@example.org`
  const { gardens = 6, crops = 30, last = 2025, runs = false, idsEnd } = size
  // Of version 8, as the service makes such ids: a form takes no other.
  const own = (what: SQL) => sql`overlay(overlay(md5(${slug} || ${what}) placing '8' from 13) placing '8' from 17)`
  const id = (what: SQL) =>
    idsEnd === undefined ? sql`${own(what)}::uuid` : sql`overlay(${own(what)} placing ${idsEnd} from 25)::uuid`
  const personId = await person(database, email, idsEnd === undefined ? null : id(sql`'person'`))
  const groupId = await only(database, sql`select ${id(sql`'group'`)} as id`)
  const run = (statement: SQL) => database.drizzle.execute(statement)
  const g = sql`${groupId}::uuid`
  await run(sql`insert into groups (id, slug, name, currency, time_zone, locale)
    values (${g}, ${slug}, ${`Large ${number}`}, 'EUR', 'Europe/Berlin', 'en-GB')`)
  await run(sql`insert into members (group_id, person_id, role) values (${g}, ${personId}::uuid, 'keeper')`)
  await run(sql`insert into sites (group_id, id, name) values (${g}, ${id(sql`'site'`)}, 'Quern Hill')`)
  await run(sql`insert into methods (group_id, id, name, position, colour_index)
    select ${g}, ${id(sql`'method' || m`)}, 'Method ' || m, m, m from generate_series(0, 1) m`)
  await run(sql`insert into gardens (group_id, id, site_id, name, gross_area_cm2, position)
    select ${g}, ${id(sql`'garden' || n`)}, ${id(sql`'site'`)}, 'Garden ' || n, 1200000, n
    from generate_series(0, ${gardens - 1}::int) n`)
  await run(sql`insert into beds (group_id, id, garden_id, name, area_cm2, position)
    select ${g}, ${id(sql`'bed' || n || '-' || b`)}, ${id(sql`'garden' || n`)}, 'Bed ' || b, 100000, b
    from generate_series(0, ${gardens - 1}::int) n, generate_series(0, ${bedsOfGarden - 1}::int) b`)
  await run(sql`insert into crops (group_id, id, name)
    select ${g}, ${id(sql`'crop' || c`)}, 'crop ' || c from generate_series(0, ${crops - 1}::int) c`)
  await run(sql`insert into cultivars (group_id, id, crop_id, name)
    select ${g}, ${id(sql`'cultivar' || c`)}, ${id(sql`'crop' || c`)}, 'Kestrel'
    from generate_series(0, ${crops - 1}::int) c`)
  const years = sql`generate_series(${last + 1 - size.seasons}::int, ${last}::int) y`
  const running = sql`(y = ${last}::int and ${runs}::boolean)`
  await run(sql`insert into seasons (group_id, id, name, starts_on, ends_on)
    select ${g}, ${id(sql`'season' || y`)}, y::text, make_date(y, 3, 2),
      case when ${running} then make_date(y, 12, 31) else make_date(y, 11, 1) end from ${years}`)
  await run(sql`insert into method_assignments
      (group_id, id, season_id, garden_id, method_id, phase, year_of_method, how, random_seed)
    select ${g}, ${id(sql`'assigned' || y || n`)}, ${id(sql`'season' || y`)}, ${id(sql`'garden' || n`)},
      ${id(sql`'method' || (n % 2)`)}, 'established', 3, 'random', 'drawn'
    from ${years}, generate_series(0, ${gardens - 1}::int) n`)
  await run(sql`insert into matched_sets (group_id, id, season_id, cultivar_id, name)
    select ${g}, ${id(sql`'set' || y || '-' || c`)}, ${id(sql`'season' || y`)}, ${id(sql`'cultivar' || c`)}, 'crop ' || c
    from ${years}, generate_series(0, ${crops - 1}::int) c`)
  await run(sql`insert into plantings
      (group_id, id, season_id, bed_id, cultivar_id, matched_set_id, area_cm2, sown_on, cleared_on)
    select ${g}, ${id(sql`'planting' || y || '-' || n || '-' || c`)}, ${id(sql`'season' || y`)},
      ${id(sql`'bed' || n || '-' || (c % ${bedsOfGarden}::int)`)}, ${id(sql`'cultivar' || c`)},
      ${id(sql`'set' || y || '-' || c`)}, 20000, make_date(y, 3, 10), case when not ${running} then make_date(y, 10, 20) end
    from ${years}, generate_series(0, ${gardens - 1}::int) n, generate_series(0, ${crops - 1}::int) c`)
  const plantings = size.seasons * gardens * crops
  await run(sql`insert into harvests
      (group_id, id, season_id, planting_id, harvested_on, iso_week, marketable_g, unmarketable_g, unmarketable_reason)
    select ${g}, ${id(sql`'harvest' || i`)}, ${id(sql`'season' || y`)},
      ${id(sql`'planting' || y || '-' || n || '-' || c`)}, day, to_char(day, 'IYYY"-W"IW'),
      100 + (i * 7919) % 900, case when i % 9 = 0 then 50 else 0 end, case when i % 9 = 0 then 'slugs' end
    from (select i, ${last}::int - (i % ${plantings}::int) / ${gardens * crops}::int as y,
        (i % ${gardens * crops}::int) / ${crops}::int as n, i % ${crops}::int as c,
        make_date(${last}::int - (i % ${plantings}::int) / ${gardens * crops}::int, 6, 1) + (i / ${plantings}::int * 4) % 120 as day
      from generate_series(0, ${size.harvests - 1}::int) i) made`)
  const gardenYears = size.seasons * gardens
  await run(sql`insert into labour_entries
      (group_id, id, season_id, iso_week, worked_on, task, phase, person_minutes, garden_id)
    select ${g}, ${id(sql`'labour' || i`)}, ${id(sql`'season' || y`)}, to_char(day, 'IYYY"-W"IW'), day,
      (array['weeding', 'sowing', 'watering', 'harvest', 'preparing beds'])[1 + i % 5], 'established',
      10 + (i * 7907) % 90, ${id(sql`'garden' || n`)}
    from (select i, ${last}::int - (i % ${gardenYears}::int) / ${gardens}::int as y, i % ${gardens}::int as n,
        make_date(${last}::int - (i % ${gardenYears}::int) / ${gardens}::int, 3, 3) + (i / ${gardenYears}::int) % 240 as day
      from generate_series(0, ${size.labour - 1}::int) i) made`)
  await run(sql`insert into week_closings (group_id, id, garden_id, iso_week, what)
    select ${g}, ${id(sql`'closed' || y || '-' || n || '-' || w || what`)}, ${id(sql`'garden' || n`)},
      to_char(make_date(y, 3, 2) + 7 * w, 'IYYY"-W"IW'), what
    from ${years}, generate_series(0, ${gardens - 1}::int) n, generate_series(0, 35) w,
      unnest(array['hours', 'weights']) what`)
  await run(sql`insert into inputs (group_id, id, name, kind, unit)
    values (${g}, ${id(sql`'input'`)}, 'Green-waste compost', 'compost', 'm3')`)
  await run(sql`insert into deliveries (group_id, id, input_id, delivered_on, quantity_thousandths, price_minor)
    select ${g}, ${id(sql`'load' || y`)}, ${id(sql`'input'`)}, make_date(y, 3, 4), 6000, 24000 from ${years}`)
  await run(sql`insert into applications
      (group_id, id, season_id, delivery_id, garden_id, applied_on, quantity_thousandths, phase)
    select ${g}, ${id(sql`'spread' || y || n`)}, ${id(sql`'season' || y`)}, ${id(sql`'load' || y`)},
      ${id(sql`'garden' || n`)}, make_date(y, 3, 6), 1000, 'established'
    from ${years}, generate_series(0, ${gardens - 1}::int) n`)
  await run(sql`update seasons set closed_at = now()
    where group_id = ${g} and not (${runs}::boolean and extract(year from starts_on) = ${last}::int)`)
  await run(sql`analyze`)
  return { groupId, slug, personId, email }
}

/** Whoever keeps it, by an id of the group's own where those of its rows are to be copied. */
async function person(database: Database, email: string, wanted: SQL | null): Promise<string> {
  const made = await addPerson(database, { name: 'Ada Rook', email, password })
  if (wanted === null) return made
  return only(database, sql`update people set id = ${wanted} where id = ${made}::uuid returning id`)
}

async function only(database: Database, query: SQL): Promise<string> {
  const { rows } = (await database.drizzle.execute(query)) as unknown as { rows: { id: string }[] }
  return String(rows[0]?.id)
}
