import { and, asc, eq, isNull } from 'drizzle-orm'
import { atOnce } from '../../db/at-once.ts'
import type { Tx } from '../../db/database.ts'
import { losses } from '../../diary/diary.table.ts'
import { sealedBySeason } from '../../diary/sealed.queries.ts'
import { readTwiceOf } from '../../diary/second-readings.queries.ts'
import { closingsByGarden, standingClosings } from '../../diary/week.queries.ts'
import { bedsOf, gardensOf, methodsOf } from '../../gardens/gardens.queries.ts'
import { applications, deliveries, inputs } from '../../inputs/inputs.table.ts'
import { type Part, partOf, spreadBefore } from '../../inputs/load.ts'
import { numberIn } from '../../lookups/unsaid.ts'
import type { IsoWeek } from '../../quantities/iso-week.ts'
import { readIsoWeek, thursdayOf } from '../../quantities/iso-week.ts'
import { plantingsCounted } from '../../seasons/plantings-counted.queries.ts'
import { assignmentsOf, seasonsOf } from '../../seasons/seasons.queries.ts'
import { asWritten, type Grain, type HoursWritten } from './as-written.queries.ts'
import { changesSinceClosing } from './changes-since.queries.ts'
import { closuresOf } from './closures.queries.ts'
import { type RowsOfPlantings, rowsOfPlantings } from './in-each-season.ts'
import { type Nurseries, nurseries } from './nursery.ts'
import { nurseryCosts, partsOfNursery } from './nursery-work.ts'
import { mixedBeds, plantingRecords } from './planting-records.queries.ts'
import { bedsAt, partsOfEntry, type SharedGround } from './shared-work.ts'
import type { LabourRecord, SpreadingRecord, TrialRecord } from './trial-record.ts'

/**
 * Everything that the group's comparison rests on; shared crates and hours already divided, to the gram and the minute.
 * In rows, each weighing and entry of hours is there by itself with its id and its day; in sums, weighings are summed
 * by planting and week, and entries counted (`summed.queries.ts`): the same figures come of both, and of their mixture.
 */
export async function trialRecord(tx: Tx, groupId: string, grain: Grain = 'rows'): Promise<TrialRecord> {
  const read = await rowsRead(tx, groupId, grain)
  const { seasons, beds, plantings, assignments } = read
  const ground = { seasons, beds, plantings, assignments }
  const rows = rowsOfPlantings(plantings, seasons)
  const nursery = nurseries(beds, plantings, seasons)
  const [written, changedSince] = await atOnce([
    asWritten(tx, groupId, ground, grain),
    changesSinceClosing(tx, groupId, seasons),
  ])
  const mixed = mixedBeds(plantings)
  const lost = read.losses.map((one) => lossOf(one, rows))
  const closed = new Set(seasons.filter((season) => season.closedAt !== null).map((season) => season.id))
  return {
    seasons: seasons.map(({ id, name, startsOn, endsOn, isUniformYear }) => ({
      id,
      name,
      startsOn,
      endsOn,
      closed: closed.has(id),
      uniform: isUniformYear === 1,
      changedSince: numberIn(changedSince, id),
      sealed: numberIn(read.sealed, id),
    })),
    methods: read.methods.map(({ id, name, establishingSeasons }) => ({ id, name, establishingSeasons })),
    gardens: read.gardens.map(({ id, name, areas, siteId, exposure, soil, groundBefore }) => ({
      id,
      name,
      areas,
      siteId,
      exposure,
      soil,
      groundBefore,
    })),
    beds: nursery.beds.map(({ id, gardenId, areas, lay, name, blockId }) => ({
      id,
      gardenId,
      areas,
      name,
      blockId,
      ...(lay && { lay }),
    })),
    assignments: assignments.map(({ seasonId, gardenId, bedId, methodId, how, phase, yearOfMethod }) => ({
      seasonId,
      gardenId,
      bedId,
      methodId,
      how,
      phase,
      yearOfMethod,
    })),
    plantings: plantings.flatMap((one) =>
      plantingRecords(one, { seasons, rows, mixed, lost, weighed: written.weighed.get(one.id) ?? [] }),
    ),
    losses: lost,
    labour: labourOf(written.hours, ground, { inRow: rows, nursery }),
    spreadings: nurseryCosts(spreadingsOf(read.spread, ground, rows), nursery),
    closings: read.closings,
    closures: read.closures,
    entries: written.entries.map((one) => ({
      ...one,
      bedIds: nursery.receiving(one.seasonId, one.bedIds),
    })),
    readTwice: read.readTwice.map((one) => readIn(one, rows)),
  }
}

/** What is small, and asked for together: none of it waits for the answer to another. */
async function rowsRead(tx: Tx, groupId: string, grain: Grain) {
  const closingsOf = grain === 'rows' ? standingClosings : closingsByGarden
  const [seasons, beds, plantings, assignments, methods, gardens, ...others] = await atOnce([
    seasonsOf(tx, groupId),
    bedsOf(tx, groupId),
    plantingsCounted(tx, groupId),
    assignmentsOf(tx, groupId),
    methodsOf(tx, groupId),
    gardensOf(tx, groupId),
    lossesOf(tx, groupId),
    spreadOf(tx, groupId),
    closingsOf(tx, groupId),
    closuresOf(tx, groupId),
    readTwiceOf(tx, groupId),
    sealedBySeason(tx, groupId),
  ])
  const [losses, spread, closings, closures, readTwice, sealed] = others
  return {
    seasons,
    beds,
    plantings,
    assignments,
    methods,
    gardens,
    losses,
    spread,
    closings,
    closures,
    readTwice,
    sealed,
  }
}

function readIn<T extends { readonly plantingId: string; readonly isoWeek: IsoWeek }>(
  reading: T,
  rows: RowsOfPlantings,
) {
  const week = readIsoWeek(reading.isoWeek)
  return week ? { ...reading, plantingId: rows.onDay(reading.plantingId, thursdayOf(week)) } : reading
}

const lossesOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt)))
    .orderBy(asc(losses.plantingId), asc(losses.lostOn), asc(losses.id))

function lossOf(row: typeof losses.$inferSelect, inRow: RowsOfPlantings) {
  const { id, plantingId, lostOn, sharePermille, cause, outsideMethod, alsoNextDoor } = row
  return {
    id,
    lostOn,
    sharePermille,
    cause,
    alsoNextDoor,
    outsideMethod: outsideMethod === 1,
    plantingId: inRow.onDay(plantingId, lostOn),
  }
}

interface InRecord {
  readonly inRow: RowsOfPlantings
  readonly nursery: Nurseries
}

function labourOf(
  written: readonly HoursWritten[],
  ground: SharedGround,
  { inRow, nursery }: InRecord,
): LabourRecord[] {
  const records: LabourRecord[] = []
  for (const row of written) {
    const { seasonId, task, isoWeek, who, id, workedOn, minutes: each, shareRule = null, shares = [] } = row
    const plantingId = row.plantingId === null ? null : inRow.inSeason(row.plantingId, seasonId)
    const said = id === undefined || workedOn === undefined ? {} : { id, workedOn }
    const whole = wholeOf(row, ground, nursery)
    if (whole) {
      const { phase, bedIds, gardenId } = whole
      for (const [personMinutes, times] of each)
        records.push({
          seasonId,
          task,
          isoWeek,
          plantingId,
          who,
          ...said,
          phase,
          bedIds,
          gardenId,
          personMinutes,
          ...several(times),
        })
      continue
    }
    const overGardens = shareRule !== null && shares.every((one) => one.bedId === null)
    for (const [personMinutes, times] of each) {
      const parts = partsOfEntry({ ...row, shareRule, personMinutes }, shares, ground)
      for (const part of parts.flatMap((one) => partsOfNursery(one, seasonId, nursery))) {
        const { gardenId, bedIds, phase, minutes, someBeds, writtenFor, ofNursery } = part
        records.push({
          seasonId,
          task,
          isoWeek,
          plantingId: ofNursery ? null : plantingId,
          who,
          ...said,
          phase,
          bedIds,
          personMinutes: minutes,
          gardenId: someBeds ? null : gardenId,
          ...several(times),
          ...(overGardens || ofNursery ? { sharedByRule: ofNursery || shareRule !== 'given' } : {}),
          ...(overGardens || writtenFor || ofNursery ? { sharedMinutes: personMinutes } : {}),
          ...(writtenFor ? { writtenFor } : {}),
          ...(ofNursery ? { ofNursery } : {}),
        })
      }
    }
  }
  return records
}

const several = (times: number) => (times === 1 ? {} : { times })

/** Where an entry stays one: written for one place in one phase, and no nursery is in it. */
function wholeOf(row: HoursWritten, ground: SharedGround, nursery: Nurseries) {
  const { seasonId, gardenId, phase, shareRule = null } = row
  if (phase === null || shareRule !== null) return null
  const bedIds = bedsAt(row, ground)
  return nursery.divided(seasonId, bedIds, 0) ? null : { phase, bedIds, gardenId }
}

const columnsCounted = {
  id: applications.id,
  deliveryId: applications.deliveryId,
  quantityThousandths: applications.quantityThousandths,
  seasonId: applications.seasonId,
  gardenId: applications.gardenId,
  bedId: applications.bedId,
  plantingId: applications.plantingId,
  phase: applications.phase,
  appliedOn: applications.appliedOn,
  usefulLifeSeasons: applications.usefulLifeSeasons,
}

const spreadOf = (tx: Tx, groupId: string) =>
  tx
    .select({
      application: columnsCounted,
      delivery: {
        priceMinor: deliveries.priceMinor,
        deliveryPriceMinor: deliveries.deliveryPriceMinor,
        quantityThousandths: deliveries.quantityThousandths,
      },
      input: {
        name: inputs.name,
        kind: inputs.kind,
        ownMade: inputs.ownMade,
        usefulLifeSeasons: inputs.usefulLifeSeasons,
      },
    })
    .from(applications)
    .innerJoin(deliveries, and(eq(deliveries.groupId, groupId), eq(deliveries.id, applications.deliveryId)))
    .innerJoin(inputs, and(eq(inputs.groupId, groupId), eq(inputs.id, deliveries.inputId)))
    .where(and(eq(applications.groupId, groupId), isNull(applications.removedAt)))
    .orderBy(asc(applications.id))

function spreadingsOf(
  rows: Awaited<ReturnType<typeof spreadOf>>,
  ground: SharedGround,
  inRow: RowsOfPlantings,
): SpreadingRecord[] {
  const before = spreadBefore(rows.map((row) => row.application))
  return rows.map(({ application, delivery, input }) => ({
    seasonId: application.seasonId,
    ...costOf(delivery, { ...application, beforeThousandths: numberIn(before, application.id) }, input.ownMade === 1),
    usefulLifeSeasons: application.usefulLifeSeasons ?? input.usefulLifeSeasons,
    bedIds: bedsAt(application, ground),
    phase: application.phase,
    kind: input.kind,
    plantingId: application.plantingId && inRow.inSeason(application.plantingId, application.seasonId),
    id: application.id,
    on: application.appliedOn,
    input: input.name,
    gardenId: application.gardenId,
  }))
}

interface Priced {
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
  readonly quantityThousandths: number
}

/** Price and carriage in the part that was spread; of something of the group's own only the carriage was paid. */
function costOf({ priceMinor, deliveryPriceMinor, quantityThousandths }: Priced, spread: Part, ownMade: boolean) {
  const part = (minor: number) => partOf(minor, spread, quantityThousandths)
  const costMinor = priceMinor === null ? null : part(priceMinor + deliveryPriceMinor)
  return { costMinor, cashMinor: ownMade ? part(deliveryPriceMinor) : costMinor }
}
