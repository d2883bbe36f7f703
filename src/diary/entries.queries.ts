import { and, eq, inArray, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { type StoredOrRefused, storeAll } from '../db/store-all.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { harvestShares, harvests, labourEntries, labourShares, losses } from './diary.table.ts'
import type { HoursRow } from './hours-rule.ts'
import type { LossRow } from './loss-rule.ts'
import type { WeighingRow } from './weighing-rule.ts'

/** Rows that the rules have let pass, of one save. */
export interface Entries {
  readonly weighings: readonly WeighingRow[]
  readonly hours: readonly HoursRow[]
  readonly losses: readonly LossRow[]
}

/** Stores a save: one statement, whatever number of rows it has. By the id of each row, what became of it. */
export async function storeEntries(tx: Tx, author: Author, entries: Entries) {
  const stored = await storeAll(tx, [
    { table: harvests, rows: entries.weighings.map(({ harvest }) => ({ ...harvest, ...author })) },
    { table: labourEntries, rows: entries.hours.map(({ labour }) => ({ ...labour, ...author })) },
    { table: losses, rows: entries.losses.map((loss) => ({ ...loss, ...author })) },
  ])
  const answers = new Map(stored)
  await sharesOfCrates(tx, author, { entries, answers })
  await sharesOfWork(tx, author, { entries, answers })
  return answers
}

interface Storing {
  readonly entries: Entries
  readonly answers: Map<string, StoredOrRefused>
}

/** Shares of crates that are new; of those that stood already, whether they are divided alike. */
async function sharesOfCrates(tx: Tx, author: Author, { entries, answers }: Storing): Promise<void> {
  const shared = entries.weighings.filter(({ shares }) => shares.length > 0)
  const fresh = shared.filter(({ harvest }) => answers.get(harvest.id) === 'stored')
  const rows = fresh.flatMap(({ harvest, shares }) =>
    shares.map((share) => ({ ...author, ...share, id: newId(), harvestId: harvest.id })),
  )
  if (rows.length > 0) await tx.insert(harvestShares).values(rows)
  const there = shared.filter(({ harvest }) => answers.get(harvest.id) === 'there')
  if (there.length === 0) return
  const ids = there.map(({ harvest }) => harvest.id)
  const stood = await tx
    .select({ of: harvestShares.harvestId, at: harvestShares.plantingId, share: harvestShares.share })
    .from(harvestShares)
    .where(
      and(
        eq(harvestShares.groupId, author.groupId),
        inArray(harvestShares.harvestId, ids),
        isNull(harvestShares.removedAt),
      ),
    )
  for (const { harvest, shares } of there) {
    const sent = shares.map(({ plantingId, share }) => ({ of: harvest.id, at: plantingId, share }))
    if (
      !dividedAlike(
        stood.filter((one) => one.of === harvest.id),
        sent,
      )
    )
      answers.set(harvest.id, 'another')
  }
}

async function sharesOfWork(tx: Tx, author: Author, { entries, answers }: Storing): Promise<void> {
  const shared = entries.hours.filter(({ shares }) => shares.length > 0)
  const fresh = shared.filter(({ labour }) => answers.get(labour.id) === 'stored')
  const rows = fresh.flatMap(({ labour, shares }) =>
    shares.map((share) => ({ ...author, ...share, id: newId(), labourEntryId: labour.id })),
  )
  if (rows.length > 0) await tx.insert(labourShares).values(rows)
  const there = shared.filter(({ labour }) => answers.get(labour.id) === 'there')
  if (there.length === 0) return
  const ids = there.map(({ labour }) => labour.id)
  const stood = await tx
    .select({
      of: labourShares.labourEntryId,
      garden: labourShares.gardenId,
      bed: labourShares.bedId,
      share: labourShares.share,
    })
    .from(labourShares)
    .where(
      and(
        eq(labourShares.groupId, author.groupId),
        inArray(labourShares.labourEntryId, ids),
        isNull(labourShares.removedAt),
      ),
    )
  for (const { labour, shares } of there) {
    const sent = shares.map(({ gardenId, bedId, share }) => ({ at: bedId ?? gardenId, share }))
    if (
      !dividedAlike(
        stood.filter((one) => one.of === labour.id).map(({ garden, bed, share }) => ({ at: bed ?? garden, share })),
        sent,
      )
    )
      answers.set(labour.id, 'another')
  }
}

interface Share {
  readonly at: string
  readonly share: number | null
}

function dividedAlike(stood: readonly Share[], sent: readonly Share[]): boolean {
  const inWords = (shares: readonly Share[]) =>
    shares
      .map(({ at, share }) => `${at} ${share}`)
      .sort()
      .join('\n')
  return inWords(stood) === inWords(sent)
}
