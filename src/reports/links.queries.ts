import { createHash, randomBytes } from 'node:crypto'
import { hash, verify } from '@node-rs/argon2'
import { and, asc, eq, gt, inArray, isNull, or, sql } from 'drizzle-orm'
import { groups } from '../accounts/accounts.table.ts'
import { isAffordable } from '../accounts/hash-cost.ts'
import { argon, type Group } from '../accounts/members.queries.ts'
import type { Database, Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asDoor } from '../db/transaction.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { firstOf } from '../lookups/nth.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { linkOpenings, shareLinks } from './reports.table.ts'

const hashOf = (text: string) => createHash('sha256').update(text).digest('hex')

/** The links to any edition of a report. */
export const linksOf = (tx: Tx, groupId: string, reportIds: readonly string[]) =>
  tx
    .select()
    .from(shareLinks)
    .where(and(eq(shareLinks.groupId, groupId), inArray(shareLinks.reportId, [...reportIds])))
    .orderBy(asc(shareLinks.id))

interface NewLink {
  /** The first edition: the link leads to the latest finished one. */
  readonly reportId: string
  /** The last day, in the group's zone; without it the link does not end. */
  readonly endsOn: IsoDate | null
  readonly timeZone: string
  readonly passphrase: string | null
}

/** The token is given back once and only its hash is stored; so is a passphrase, as a password is. */
export async function addLink(tx: Tx, author: Author, { reportId, endsOn, timeZone, passphrase }: NewLink) {
  const token = randomBytes(32).toString('base64url')
  const endsAt = endsOn === null ? null : sql`(${endsOn}::date + 1)::timestamp at time zone ${timeZone}`
  const passphraseHash = passphrase === null ? null : await hash(passphrase.normalize('NFC'), argon)
  const link = { id: newId(), reportId, tokenHash: hashOf(token), passphraseHash, endsAt }
  await tx.insert(shareLinks).values({ ...author, ...link })
  return token
}

/** How many links of a group lead somewhere now. */
export async function linksOpen(tx: Tx, groupId: string): Promise<number> {
  const open = and(isNull(shareLinks.revokedAt), or(isNull(shareLinks.endsAt), gt(shareLinks.endsAt, sql`now()`)))
  const found = await tx
    .select({ count: sql<number>`count(*)::int` })
    .from(shareLinks)
    .where(and(eq(shareLinks.groupId, groupId), open))
  return firstOf(found).count
}

/** False where the group has no such link; one that is revoked already stays so. */
export async function revokeLink(tx: Tx, groupId: string, id: string): Promise<boolean> {
  const link = and(eq(shareLinks.groupId, groupId), eq(shareLinks.id, id))
  const found = await tx.select({ id: shareLinks.id }).from(shareLinks).where(link)
  await tx
    .update(shareLinks)
    .set({ revokedAt: sql`now()` })
    .where(and(link, isNull(shareLinks.revokedAt)))
  return found.length === 1
}

export interface OpenLink {
  readonly id: string
  readonly reportId: string
  readonly passphraseHash: string | null
  readonly group: Group
}

/** The link of a token with its group; undefined where it is unknown, ended or revoked: all three look alike. */
export async function openLink(database: Database, token: string): Promise<OpenLink | undefined> {
  const open = and(
    eq(shareLinks.tokenHash, hashOf(token)),
    isNull(shareLinks.revokedAt),
    or(isNull(shareLinks.endsAt), gt(shareLinks.endsAt, sql`now()`)),
  )
  const { id, reportId, passphraseHash } = shareLinks
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ id, reportId, passphraseHash, group: groups })
      .from(shareLinks)
      .innerJoin(groups, eq(groups.id, shareLinks.groupId))
      .where(open),
  )
  return found
}

/** A hash that a package brought in may be of any cost: one that is too dear opens nothing. */
export const isPassphrase = async (passphraseHash: string, typed: string) =>
  isAffordable(passphraseHash) && verify(passphraseHash, typed.normalize('NFC'))

/** Adds to what a link was opened on a day: a number, and nothing about who opened it. */
export async function addOpenings(
  tx: Tx,
  groupId: string,
  opened: { linkId: string; day: IsoDate; openings: number },
): Promise<void> {
  await tx
    .insert(linkOpenings)
    .values({ groupId, id: newId(), ...opened })
    .onConflictDoUpdate({
      target: [linkOpenings.groupId, linkOpenings.linkId, linkOpenings.day],
      set: { openings: sql`${linkOpenings.openings} + excluded.openings` },
    })
}

export const openingsOf = (tx: Tx, groupId: string, linkIds: readonly string[]) =>
  tx
    .select({ linkId: linkOpenings.linkId, day: linkOpenings.day, openings: linkOpenings.openings })
    .from(linkOpenings)
    .where(and(eq(linkOpenings.groupId, groupId), inArray(linkOpenings.linkId, [...linkIds])))
    .orderBy(asc(linkOpenings.day), asc(linkOpenings.linkId))
