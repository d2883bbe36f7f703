import { and, eq } from 'drizzle-orm'
import { amend, markRemoved } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { idOf } from '../db/new-id.ts'
import { harvestShares, harvests, labourEntries, losses, secondReadings } from '../diary/diary.table.ts'
import { applications } from '../inputs/inputs.table.ts'
import { counts, fieldNotes } from '../notes/notes.table.ts'
import { plantings } from '../seasons/seasons.table.ts'
import { followTo } from './following.queries.ts'
import { type Hanging, hangingOn } from './hanging.queries.ts'
import { dividedByArea, type Parted, sharesParted } from './parted.ts'

type Planting = typeof plantings.$inferSelect

interface Parting {
  readonly id: string
  readonly bedId: string
  readonly planting: Planting
  readonly parted: Parted
  readonly createdBy: string | null
  readonly reason: string
}

/** Whether a part was made under this id already: a form sent twice parts once. */
export async function isPartedAlready(tx: Tx, groupId: string, id: string): Promise<boolean> {
  const [found] = await tx
    .select({ id: plantings.id })
    .from(plantings)
    .where(and(eq(plantings.groupId, groupId), eq(plantings.id, id)))
  return found !== undefined
}

/**
 * One planting that is two: the part is a planting of its own, and what was written goes the way that was said for it.
 */
export async function partPlanting(tx: Tx, given: Parting): Promise<boolean> {
  const { id, bedId, planting, parted, createdBy } = given
  const { gardenId, ...part } = parted.part
  if (!(await amend(tx, plantings, planting, parted.left))) return false
  const { version: _version, createdAt: _when, ...alike } = planting
  await tx.insert(plantings).values({ ...alike, ...part, id, bedId, createdBy })
  const hanging = await hangingOn(tx, planting.groupId, [planting.id])
  await weightsGo(tx, given, hanging)
  await crateSharesGo(tx, given, hanging)
  await lossesGo(tx, given, hanging)
  await hoursAndLoadsGo(tx, given, hanging)
  for (const one of hanging.notes)
    if (wayOf(given, one.id) === 'goes') await amend(tx, fieldNotes, one, { plantingId: id })
  for (const one of hanging.counts)
    if (wayOf(given, one.id) === 'goes') await amend(tx, counts, one, { plantingId: id })
  await followTo(tx, planting.groupId, { plantingId: id, seasonId: planting.seasonId, gardenId, bedId })
  return true
}

const wayOf = ({ parted }: Parting, id: string) => parted.wayOf.get(id) ?? 'stays'

/**
 * A weight of both is a crate from both, divided by area to the gram. A second reading holds only where nothing left
 * its week.
 */
async function weightsGo(tx: Tx, given: Parting, { weights, readings }: Hanging): Promise<void> {
  const { id, planting, createdBy, reason } = given
  for (const one of weights) {
    const way = wayOf(given, one.id)
    if (way === 'goes') await amend(tx, harvests, one, { plantingId: id })
    if (way !== 'divided') continue
    await amend(tx, harvests, one, { plantingId: null, shareRule: 'area' })
    const share = { groupId: one.groupId, createdBy, harvestId: one.id, share: null }
    await tx.insert(harvestShares).values([
      { ...share, id: idOf(id, one.id, 'left'), plantingId: planting.id },
      { ...share, id: idOf(id, one.id, 'part'), plantingId: id },
    ])
  }
  for (const reading of readings) {
    const ofWeek = weights.filter((one) => one.isoWeek === reading.isoWeek).map((one) => wayOf(given, one.id))
    if (ofWeek.length > 0 && ofWeek.every((way) => way === 'goes')) {
      await amend(tx, secondReadings, reading, { plantingId: id })
    } else if (ofWeek.some((way) => way !== 'stays')) await markRemoved(tx, secondReadings, reading, reason)
  }
}

async function crateSharesGo(tx: Tx, given: Parting, { crates }: Hanging): Promise<void> {
  const { id, planting, parted, createdBy } = given
  for (const crate of crates) {
    const own = crate.shares.find((one) => one.plantingId === planting.id)
    const way = wayOf(given, crate.id)
    if (own && way === 'goes') await amend(tx, harvestShares, own, { plantingId: id })
    if (!own || way !== 'divided') continue
    const anew = sharesParted(crate.shares, own.id, [parted.left.areaCm2, parted.part.areaCm2])
    for (const one of crate.shares) {
      const share = anew.shares.get(one.id) ?? null
      if (share !== one.share) await amend(tx, harvestShares, one, { share })
    }
    const row = { groupId: crate.groupId, createdBy, harvestId: crate.id, plantingId: id, share: anew.part }
    await tx.insert(harvestShares).values({ ...row, id: idOf(id, crate.id, 'part') })
  }
}

/** A loss of both took the same share of each. */
async function lossesGo(tx: Tx, given: Parting, hanging: Hanging): Promise<void> {
  const { id, createdBy } = given
  for (const loss of hanging.losses) {
    const way = wayOf(given, loss.id)
    if (way === 'goes') await amend(tx, losses, loss, { plantingId: id })
    if (way !== 'divided') continue
    const { version: _version, createdAt: _when, ...alike } = loss
    await tx.insert(losses).values({ ...alike, createdBy, id: idOf(id, loss.id), plantingId: id })
  }
}

/**
 * Hours and loads of both are two rows that add up to the one that was written; a part of nothing stays where it was.
 */
async function hoursAndLoadsGo(tx: Tx, given: Parting, { labour, loads }: Hanging): Promise<void> {
  const { id, parted, createdBy } = given
  const [left, part] = [parted.left.areaCm2, parted.part.areaCm2]
  for (const one of labour) {
    const way = wayOf(given, one.id)
    const { stays, goes } = dividedByArea(one.personMinutes, left, part)
    if (way === 'goes') await amend(tx, labourEntries, one, { plantingId: id })
    if (way !== 'divided' || stays === 0 || goes === 0) continue
    await amend(tx, labourEntries, one, { personMinutes: stays })
    const { version: _version, createdAt: _when, ...alike } = one
    await tx
      .insert(labourEntries)
      .values({ ...alike, createdBy, id: idOf(id, one.id), plantingId: id, personMinutes: goes })
  }
  for (const one of loads) {
    const way = wayOf(given, one.id)
    const { stays, goes } = dividedByArea(one.quantityThousandths, left, part)
    if (way === 'goes') await amend(tx, applications, one, { plantingId: id })
    if (way !== 'divided' || stays === 0 || goes === 0) continue
    await amend(tx, applications, one, { quantityThousandths: stays })
    const { version: _version, createdAt: _when, ...alike } = one
    await tx
      .insert(applications)
      .values({ ...alike, createdBy, id: idOf(id, one.id), plantingId: id, quantityThousandths: goes })
  }
}
