import { createHash } from 'node:crypto'
import { and, asc, desc, eq, isNull, max, or, sql } from 'drizzle-orm'
import type { PictureKey } from '../comparison/pictures/picture-keys.ts'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { asShown } from '../lookups/unsaid.ts'
import { canonicalJson } from './frozen.ts'
import { reports } from './reports.table.ts'
import type { Section } from './sections.ts'

export const checksumOf = (figures: unknown) => createHash('sha256').update(canonicalJson(figures)).digest('hex')

export const reportsOf = (tx: Tx, groupId: string) =>
  tx
    .select({
      id: reports.id,
      title: reports.title,
      state: reports.state,
      edition: reports.edition,
      frozenAt: reports.frozenAt,
      createdAt: reports.createdAt,
    })
    .from(reports)
    .where(and(eq(reports.groupId, groupId), isNull(reports.removedAt)))
    .orderBy(desc(reports.id))

export async function reportOf(tx: Tx, groupId: string, id: string) {
  const wanted = and(eq(reports.groupId, groupId), eq(reports.id, id), isNull(reports.removedAt))
  const [found] = await tx.select().from(reports).where(wanted)
  return found
}

export type Report = NonNullable<Awaited<ReturnType<typeof reportOf>>>

export const firstEditionOf = (report: { id: string; firstId: string | null }) => report.firstId ?? report.id

/** Every edition of a report, the earliest first, without the figures. */
export const editionsOf = (tx: Tx, groupId: string, firstId: string) =>
  tx
    .select({
      id: reports.id,
      title: reports.title,
      state: reports.state,
      edition: reports.edition,
      frozenAt: reports.frozenAt,
      version: reports.version,
    })
    .from(reports)
    .where(ofSeries(groupId, firstId))
    .orderBy(asc(reports.edition), asc(reports.id))

const ofSeries = (groupId: string, firstId: string) =>
  and(
    eq(reports.groupId, groupId),
    or(eq(reports.id, firstId), eq(reports.firstId, firstId)),
    isNull(reports.removedAt),
  )

export interface WrittenReport {
  readonly id: string
  /** Of the draft that was written over; unknown for a new one. */
  readonly version: number | null
  /** The report that this one is to follow at the same links. */
  readonly after: string | null
  readonly title: string
  readonly words: string | null
  readonly season: string
  readonly sections: readonly Section[]
  readonly pictures: readonly PictureKey[]
  readonly keeps: 'frozen' | 'live'
  readonly rowsAgreed?: 'yes' | undefined
}

/** A draft, new or written over; a finished report stays as it is; "changed" where somebody else wrote it meanwhile. */
export async function saveDraft(
  tx: Tx,
  author: Author,
  given: WrittenReport,
): Promise<'saved' | 'finished' | 'changed'> {
  const before = await reportOf(tx, author.groupId, given.id)
  if (before && before.state !== 'draft') return 'finished'
  const { id, title, season, sections, pictures, keeps } = given
  const chosen = { season, sections, pictures, keeps, rowsAgreed: given.rowsAgreed ? 1 : 0 }
  const words = { title, words: asShown(given.words), ...chosen }
  if (before) {
    const same = and(
      eq(reports.groupId, author.groupId),
      eq(reports.id, id),
      eq(reports.state, 'draft'),
      eq(reports.version, given.version ?? before.version),
    )
    const next = sql`${reports.version} + 1`
    const saved = await tx
      .update(reports)
      .set({ ...words, version: next })
      .where(same)
      .returning({ id: reports.id })
    return saved.length === 1 ? 'saved' : 'changed'
  }
  const place = await placeOf(tx, author.groupId, given)
  await tx.insert(reports).values({ ...author, ...words, id, ...place, state: 'draft', schemaVersion: 2 })
  return 'saved'
}

async function placeOf(tx: Tx, groupId: string, { id, after }: WrittenReport) {
  const earlier = after ? await reportOf(tx, groupId, after) : undefined
  if (!earlier) return { firstId: id, edition: 1 }
  const firstId = firstEditionOf(earlier)
  const [latest] = await tx
    .select({ edition: max(reports.edition) })
    .from(reports)
    .where(ofSeries(groupId, firstId))
  return { firstId, edition: (latest?.edition ?? 1) + 1 }
}

interface Finished {
  readonly contents: object
  readonly rows: object | null
  readonly figures: object
  readonly dataCutOff: number
  readonly serviceVersion: string
}

/** From here on nothing in it changes: the database refuses it. */
export async function freezeDraft(tx: Tx, groupId: string, id: string, finished: Finished): Promise<void> {
  const { figures, ...kept } = finished
  await tx
    .update(reports)
    .set({ ...kept, state: 'frozen', checksum: checksumOf(figures), frozenAt: new Date() })
    .where(isDraft(groupId, id))
}

/** A live report keeps no figures: they are made when it is opened. */
export async function setLive(tx: Tx, groupId: string, id: string): Promise<void> {
  await tx.update(reports).set({ state: 'live' }).where(isDraft(groupId, id))
}

const isDraft = (groupId: string, id: string) =>
  and(eq(reports.groupId, groupId), eq(reports.id, id), eq(reports.state, 'draft'))
