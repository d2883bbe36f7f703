import type pg from 'pg'
import { largeGroup } from '../large-group.ts'
import { bareClient, type Ground, openGround } from './ground.ts'
import { type Tell, timed, turnAbout } from './taken.ts'

const others = 2000
const small = { seasons: 1, harvests: 300, labour: 150 }

/** Compare of the group of ten years, alone in its database, and in another one that two thousand small groups share. */
export async function manyGroups(alone: Ground, tell: Tell): Promise<void> {
  const among = await openGround('groups')
  try {
    const mould = await largeGroup(among.database, small, 30)
    const bare = await bareClient(among.url)
    await multiply(bare, mould.groupId)
    await bare.end()
    const compare = ({ base, page, fresh }: Ground) => timed(fresh(page(`${base}/compare?season=all`)))
    // Either makes what it has kept of all groups useless: each update is of its own database.
    const found = await turnAbout(compare(among), compare(alone))
    const work = "one group's Compare, nothing kept, among 2,000 groups"
    tell({ work, against: 'alone', most: 1.2, found })
  } finally {
    await among.drop()
  }
}

/** Copies of one group with everything but its people, its history and what is kept of it, each under ids of its own; no trigger fires. */
async function multiply(bare: pg.Client, groupId: string): Promise<void> {
  const { rows } = await bare.query<{ table_name: string; columns: string[]; types: string[] }>(
    `select c.table_name, array_agg(c.column_name::text) as columns, array_agg(c.data_type::text) as types
      from information_schema.columns c join information_schema.tables t using (table_schema, table_name)
      where c.table_schema = 'public' and t.table_type = 'BASE TABLE' and c.is_generated = 'NEVER'
      group by c.table_name having bool_or(c.column_name = 'group_id') or c.table_name = 'groups'`,
  )
  await bare.query('set session_replication_role = replica')
  for (const { table_name: table, columns, types } of rows) {
    if (['members', 'changes', 'season_sums'].includes(table)) continue
    const made = columns.map((column, i) => {
      if (column === 'slug') return `slug || '-' || k`
      const isOwn = types[i] === 'uuid' && !/^(created_by|person_id)$/.test(column)
      return isOwn ? `md5(${column}::text || k)::uuid` : column
    })
    const of = table === 'groups' ? 'id' : 'group_id'
    await bare.query(
      `insert into ${table} (${columns.join(', ')}) select ${made.join(', ')} from ${table}, generate_series(1, ${others}) k
        where ${of} = $1`,
      [groupId],
    )
  }
  await bare.query('set session_replication_role = origin')
  await bare.query('vacuum analyze')
  const { rows: counted } = await bare.query<{ groups: number }>('select count(*)::int as groups from groups')
  if ((counted[0]?.groups ?? 0) < others) throw new Error(`There are ${counted[0]?.groups} groups only.`)
}
