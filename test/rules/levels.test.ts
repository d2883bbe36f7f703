import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { packageTables } from '../../src/exchange/package-tables.queries.ts'
import { openPlace, type Place } from '../support/app.ts'

/** What stands in each table, by how it is guarded: README, "What is kept, and how it is guarded". */
const levels = {
  /** Opens an account, or signs in the name of this installation. */
  secrets: [
    ...['sessions', 'half_sign_ins', 'password_resets', 'second_steps', 'recovery_codes'],
    ...['passkeys', 'passkey_challenges', 'installation_keys', 'rate_limits'],
  ],
  people: ['people', 'waiting_letters', 'confirmed_keys'],
  /** Of a group, and of this installation alone. */
  here: [
    ...['members', 'invitations', 'group_endings', 'package_origins', 'awaited_people', 'guesses'],
    ...['name_agreements', 'share_links', 'link_openings', 'group_counters', 'waiting_files', 'season_sums'],
  ],
  record: [
    ...['groups', 'changes', 'sites', 'blocks', 'methods', 'gardens', 'garden_areas', 'beds', 'bed_areas'],
    ...['bed_closures', 'seasons', 'season_questions', 'method_assignments', 'crops', 'crop_prices', 'cultivars'],
    ...['matched_sets', 'plantings', 'containers', 'harvests', 'harvest_shares', 'crate_labels', 'second_readings'],
    ...['losses', 'labour_entries', 'labour_shares', 'week_closings', 'inputs', 'measures', 'deliveries', 'stocks'],
    ...['applications', 'soil_tests', 'spreading_limits', 'field_notes', 'pictures', 'picture_bytes', 'counts'],
    ...['weed_patches', 'weather_days', 'decisions', 'reports'],
  ],
  /** Marks a transaction that brings a group in; of nobody. */
  marks: ['bringings_in'],
} as const
const [member, door] = ['evenground_member', 'evenground_door'] as const

interface Table {
  readonly name: string
  readonly walled: boolean
  readonly wall: string | null
  readonly ofMember: readonly string[]
  readonly ofDoor: boolean
  readonly ofAnybody: boolean
  readonly remembered: boolean
}

let place: Place
let tables: readonly Table[]
beforeAll(async () => {
  place = await openPlace()
  tables = await tablesThere()
})
afterAll(() => place.close())

const run = (statement: ReturnType<typeof sql>) => place.database.drizzle.execute(statement)

async function tablesThere(): Promise<readonly Table[]> {
  const any = (role: string) => sql`has_table_privilege(${role}, c.oid, 'select, insert, update, delete, truncate')
    or has_any_column_privilege(${role}, c.oid, 'select, insert, update')`
  const found = await run(sql`select c.relname as name, c.relrowsecurity as walled,
      (select p.qual from pg_policies p where p.schemaname = 'public' and p.tablename = c.relname
        and p.policyname = 'group_wall' and p.roles = array[${member}]::name[]) as wall,
      (select coalesce(jsonb_agg(a.attname order by a.attnum), '[]') from pg_attribute a where a.attrelid = c.oid
        and a.attnum > 0 and not a.attisdropped
        and has_column_privilege(${member}, c.oid, a.attnum, 'select, insert, update')) as "ofMember",
      (${any(door)}) as "ofDoor", (${any('public')}) as "ofAnybody",
      exists (select from pg_trigger t where t.tgrelid = c.oid and t.tgname like 'history_of_%') as remembered
    from pg_class c where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') order by 1`)
  return (found as unknown as { rows: Table[] }).rows
}

const at = (...wanted: readonly (keyof typeof levels)[]): readonly Table[] => {
  const names: readonly string[] = wanted.flatMap((level) => [...levels[level]])
  return tables.filter(({ name }) => names.includes(name))
}
const namesOf = (some: readonly Table[]) => some.map(({ name }) => name)

it('every table stands at one level, and behind row-level security', () => {
  expect(Object.values(levels).flat().sort()).toEqual(namesOf(tables).toSorted())
  expect(namesOf(tables.filter(({ walled }) => !walled))).toEqual([])
  expect(namesOf(tables.filter(({ ofAnybody }) => ofAnybody))).toEqual([])
})

it('the look into the catalogue sees what is opened by mistake', async () => {
  await run(sql`grant select (token_hash) on sessions to evenground_member`)
  await run(sql`grant insert on beds to evenground_door`)
  await run(sql`grant select on soil_tests to public`)
  await run(sql`alter table losses disable row level security`)
  const seen = new Map((await tablesThere()).map((one) => [one.name, one]))
  await run(sql`revoke select (token_hash) on sessions from evenground_member`)
  await run(sql`revoke insert on beds from evenground_door`)
  await run(sql`revoke select on soil_tests from public`)
  await run(sql`alter table losses enable row level security`)
  expect(seen.get('sessions')?.ofMember).toEqual(['token_hash'])
  expect([seen.get('beds')?.ofDoor, seen.get('soil_tests')?.ofAnybody, seen.get('losses')?.walled]).toEqual([
    ...[true, true, false],
  ])
  expect(await tablesThere()).toEqual(tables)
})

describe('what is guarded', () => {
  it('as a secret no group may ask for, nor is it written into a history', () => {
    const seen = at('secrets', 'marks').filter(({ ofMember, remembered }) => ofMember.length > 0 || remembered)
    expect(namesOf(seen)).toEqual([])
  })

  it('as of people shows a group the names and addresses of its members, and nothing else', () => {
    const seen = at('people').filter(({ ofMember, remembered }) => ofMember.length > 0 || remembered)
    expect(seen.map(({ name, ofMember }) => [name, ofMember])).toEqual([
      ['people', ['id', 'email', 'name', 'created_at']],
    ])
  })

  it('as of a group stands behind the wall of that group, and the door knows of it who comes in alone', () => {
    const groups = at('here', 'record')
    expect(namesOf(groups.filter(({ wall }) => !wall?.includes('current_group()')))).toEqual([])
    expect(namesOf(groups.filter(({ ofDoor }) => ofDoor)).toSorted()).toEqual([
      ...['group_counters', 'groups', 'invitations', 'members', 'share_links'],
    ])
  })

  it('as a record goes out whole with an export, and nothing beside it does', async () => {
    const who = { personId: null, groupId: newId(), readOnly: true }
    const exported = await asMember(place.database, who, packageTables)
    expect(exported.map(({ name }) => name).toSorted()).toEqual([...levels.record].toSorted())
  })
})
