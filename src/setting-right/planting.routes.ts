import type { FastifyInstance } from 'fastify'
import type { z } from 'zod'
import { amend, markRemoved, ofTable } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { daysWritten } from '../diary/days-written.queries.ts'
import { holdClosings } from '../diary/week.queries.ts'
import { asShown } from '../lookups/unsaid.ts'
import { areaAsTyped } from '../quantities/as-typed.ts'
import { dayIn } from '../quantities/dates.ts'
import { plantingCorrection } from '../seasons/seasons.form.ts'
import { cultivarNamed, seasonsOf } from '../seasons/seasons.queries.ts'
import { plantings } from '../seasons/seasons.table.ts'
import { seasonsStood } from '../seasons/seasons-stood.ts'
import { type Correctable, type Correction, choicesOf, correcting, reasonGiven, stillUsed } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import { closedWeekOf, countsElsewhere, countToward, followTo, isSealed } from './following.queries.ts'
import { type PlantingToCorrect, plantingToCorrect, renameSet } from './planting.queries.ts'
import { plantingCorrected } from './planting-corrected.ts'

const words = () => wordsHere().seasons
const right = () => wordsHere().settingRight
const f = () => words().fields

type Given = z.output<ReturnType<typeof plantingCorrection>>

const planting: Correctable<PlantingToCorrect, Given> = {
  ...ofTable(plantings),
  find: plantingToCorrect,
  kind: 'plantings',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row, request) => [
    { name: 'cropId', label: f().crop, value: row.cropId, options: row.cropChoices },
    { name: 'cultivar', label: f().cultivar, value: row.cultivar },
    ...(row.matchedWith > 0 ? [setField(row.matchedWith)] : []),
    {
      name: 'seasonId',
      label: right().season,
      hint: right().seasonHint,
      value: row.seasonId,
      options: row.seasonChoices,
    },
    { name: 'bedId', label: right().bed, hint: right().bedHint, value: row.bedId, options: row.bedChoices },
    { name: 'areaCm2', label: f().oneArea, value: areaAsTyped(row.areaCm2, request.member.group.areaUnit) },
    { name: 'how', label: f().way, value: row.how, options: choicesOf(words().ways) },
    { name: 'sownOn', label: f().sown, type: 'date', value: asShown(row.sownOn) },
    { name: 'plantedOn', label: f().plantedOut, type: 'date', value: asShown(row.plantedOn) },
    { name: 'standsUntil', label: f().standsUntil, type: 'date', value: asShown(row.standsUntil) },
    { name: 'clearedOn', label: f().clearedOn, type: 'date', value: asShown(row.clearedOn) },
    { name: 'plants', label: f().plants, value: row.plants === null ? '' : String(row.plants) },
    { name: 'purpose', label: f().purpose, value: row.purpose, options: choicesOf(words().purposes) },
    { name: 'seedLot', label: f().seedLot, value: asShown(row.seedLot) },
    { name: 'spacing', label: f().spacing, value: asShown(row.spacing) },
    {
      name: 'interplanted',
      label: f().interplanted,
      value: row.interplanted ? 'yes' : 'no',
      options: choicesOf(words().yesOrNo),
    },
    {
      name: 'raisedInBedId',
      label: f().raisedIn,
      hint: f().raisedInHint,
      value: asShown(row.raisedInBedId),
      options: [{ value: '', label: f().notRaised }, ...row.bedChoices],
    },
    {
      name: 'standsOverSeasons',
      label: f().standsOver,
      hint: f().standsOverHint,
      value: row.standsOverSeasons ? 'yes' : 'no',
      options: choicesOf(words().yesOrNo),
    },
    {
      name: 'establishingSeasons',
      label: f().establishing,
      hint: f().establishingHint,
      value: row.establishingSeasons === null ? '' : String(row.establishingSeasons),
    },
    {
      name: 'matchedSetId',
      label: f().matchedSet,
      value: asShown(row.matchedSetId),
      options: [{ value: '', label: words().inNoSet }, ...row.setChoices],
    },
  ],
  form: (request) => plantingCorrection(request.member.group.areaUnit),
  closed: countsInClosed,
  correct: corrected,
  remove: (tx, seen, reason) => markRemoved(tx, plantings, seen, reason),
  constraints: {
    plantings_fit_their_bed: {
      get areaCm2() {
        return words().bedFull
      },
    },
    plantings_matched_set: {
      get matchedSetId() {
        return wordsHere().fields.notChosen
      },
    },
    plantings_raised_in: {
      get raisedInBedId() {
        return wordsHere().fields.notChosen
      },
    },
    cultivars_crop: {
      get cropId() {
        return wordsHere().fields.notChosen
      },
    },
    ...stillUsed,
  },
  further: (row, request) => ({
    address: `/g/${request.member.group.slug}/plantings/${row.id}/rearranging`,
    label: right().link,
  }),
  back: (row, request) => `/g/${request.member.group.slug}/seasons/${row.seasonId}`,
}

/** A field of which nothing is known is blank. */

const setField = (others: number) => ({
  name: 'together',
  label: right().together(others),
  value: '',
  options: [{ value: '', label: right().notSaid }, ...choicesOf(right().togetherChoices)],
})

const sentences = () => ({
  ahead: words().ahead,
  dayOutside: words().dayOutside,
  writtenLater: words().writtenLater,
  writtenEarlier: words().writtenEarlier,
  notChosen: wordsHere().fields.notChosen,
  sealed: right().sealed,
  whichOfSet: right().whichOfSet,
})

/** Of what stands over seasons each one that it counts in. */
async function countsInClosed(tx: Tx, row: PlantingToCorrect): Promise<boolean> {
  const seasons = await seasonsOf(tx, row.groupId)
  const stood = new Set(seasonsStood(row, seasons).map((one) => one.seasonId))
  return seasons.some((one) => one.closedAt !== null && stood.has(one.id))
}

/** The planting, and all that hangs on it, in the transaction that this is called in. */
async function corrected(tx: Tx, what: Correction<PlantingToCorrect, Given>) {
  const { row, seen, request } = what
  const { groupId, id } = row
  const { cropId = row.cropId, cultivar = row.cultivar, bedId = row.bedId, together = null, ...rest } = what.given
  const { seasonId = row.seasonId, ...given } = rest
  await holdClosings(tx, groupId)
  const author = { groupId, createdBy: request.member.personId }
  const isSame = cropId === row.cropId && cultivar === row.cultivar
  const cultivarId = isSame ? row.cultivarId : await cultivarNamed(tx, author, cropId, cultivar)
  const seasons = new Map((await seasonsOf(tx, groupId)).map((one) => [one.id, one]))
  const { sets, matchedWith, gardenOfBed } = row
  const known = {
    stands: row,
    sets,
    matchedWith,
    gardenOfBed,
    today: dayIn(request.member.group.timeZone, new Date()),
    seasons,
    written: await daysWritten(tx, groupId, id),
    sealed: await isSealed(tx, groupId, [id]),
  }
  const found = plantingCorrected(known, { ...given, seasonId, cultivarId, bedId, together })
  if (found.kind === 'refused') return { [found.field]: sentences()[found.code] }
  const endsHere = row.standsOverSeasons === 1 && given.standsOverSeasons === 0
  if (endsHere && (await countsElsewhere(tx, row))) return { standsOverSeasons: right().countsLater }
  if (found.movedTo) {
    const gardenIds = [gardenOfBed.get(row.bedId), found.movedTo.gardenId].filter((one) => one !== undefined)
    const closed = await closedWeekOf(tx, groupId, { plantingIds: [id], gardenIds })
    if (closed && reasonGiven(request) === null) return { closedReason: wordsHere().correcting.closedAsks }
  }
  const isMoved = seasonId !== row.seasonId
  if (isMoved && seasons.get(seasonId)?.closedAt && reasonGiven(request) === null)
    return { closedReason: wordsHere().correcting.closedAsks }
  const changes = { ...given, seasonId, cultivarId, bedId, matchedSetId: found.matchedSetId }
  if (!(await amend(tx, plantings, seen, changes))) return false
  if (found.setRenamed) {
    await renameSet(tx, id, { groupId, setId: found.setRenamed, cultivarId, before: row.cultivar, cultivar })
  }
  if (isMoved) await countToward(tx, { groupId, plantingId: id, setId: found.setMoved, seasonId })
  if (found.movedTo) await followTo(tx, groupId, { plantingId: id, seasonId, ...found.movedTo })
  return true
}

export function plantingCorrections(app: FastifyInstance): void {
  correcting(app, planting)
}
