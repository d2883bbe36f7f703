import type { FastifyInstance, FastifyRequest } from 'fastify'
import { ofTable, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { areaAsTyped, moneyAsTyped, weightAsTyped } from '../quantities/as-typed.ts'
import { dayIn } from '../quantities/dates.ts'
import { decimalsOf } from '../quantities/money.ts'
import { type Correctable, choicesOf, correcting } from '../web/correcting.ts'
import { catalogue } from '../words/catalogue.ts'
import { firstDayOf, seenFrom } from './days-of-season.ts'
import { namesOfPlantings } from './planting-names.queries.ts'
import { cropForm, plantingCorrection, seasonCorrection } from './seasons.form.ts'
import { type DaysWritten, matchedSetsOf, seasonsOf } from './seasons.queries.ts'
import { crops, plantings, seasons } from './seasons.table.ts'

const words = catalogue.seasons
const f = words.fields
const used = { stays_while_used: { reason: catalogue.correcting.stillUsed } }
const at = (request: FastifyRequest, path: string) => `/g/${request.member.group.slug}/${path}`

const season: Correctable<typeof seasons.$inferSelect, object> = {
  ...ofTable(seasons),
  kind: 'seasons',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: f.name, value: row.name },
    { name: 'startsOn', label: f.from, type: 'date', value: row.startsOn },
    { name: 'endsOn', label: f.to, type: 'date', value: row.endsOn },
    {
      name: 'isUniformYear',
      label: f.uniform,
      value: row.isUniformYear ? 'yes' : 'no',
      options: choicesOf(words.yesOrNo),
    },
  ],
  form: () => seasonCorrection,
  constraints: {
    seasons_do_not_overlap: { startsOn: words.overlap },
    seasons_name_is_taken: { name: catalogue.gardens.nameTaken },
    ...used,
  },
  back: (row, request) => at(request, `seasons/${row.id}`),
}

const crop: Correctable<typeof crops.$inferSelect, object> = {
  ...ofTable(crops),
  kind: 'crops',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row, request) => {
    const { currency, weightUnit } = request.member.group
    const price = row.priceMinorPerKg
    return [
      { name: 'name', label: f.cropName, value: row.name },
      { name: 'family', label: f.family, value: row.family ?? '' },
      {
        name: 'priceMinorPerKg',
        label: f.price(currency),
        value: price === null ? '' : moneyAsTyped(price, decimalsOf(currency)),
      },
      { name: 'pricedOn', label: f.pricedOn, type: 'date', value: row.pricedOn ?? '' },
      {
        name: 'askAboveGPerM2',
        label: f.askAbove,
        hint: f.askAboveHint,
        value: row.askAboveGPerM2 === null ? '' : weightAsTyped(row.askAboveGPerM2, weightUnit as 'kg' | 'lb'),
      },
      {
        name: 'touchesSoil',
        label: f.touchesSoil,
        hint: f.touchesSoilHint,
        value: row.touchesSoil === null ? '' : row.touchesSoil ? 'yes' : 'no',
        options: [{ value: '', label: words.soilNotKnown }, ...choicesOf(words.yesOrNo)],
      },
      {
        name: 'weighedAs',
        label: f.weighedAs,
        hint: f.weighedAsHint,
        value: row.weighedAs ?? '',
        options: [{ value: '', label: words.weighedFresh }, ...choicesOf(words.weighedStates)],
      },
      { name: 'source', label: f.source, value: row.source ?? '' },
    ]
  },
  form: (request) => cropForm(request.member.group.currency, request.member.group.weightUnit as 'kg' | 'lb'),
  constraints: { crops_name_is_taken: { name: catalogue.gardens.nameTaken }, ...used },
  back: (_row, request) => at(request, 'crops'),
}

type PlantingCorrected = NonNullable<Awaited<ReturnType<typeof plantingWithSets>>>

async function plantingWithSets(tx: Tx, groupId: string, id: string) {
  const row = await rowOf(tx, plantings, groupId, id)
  if (!row) return undefined
  const sets = (await matchedSetsOf(tx, groupId)).filter((set) => set.cultivarId === row.cultivarId)
  return {
    ...row,
    name: (await namesOfPlantings(tx, groupId)).get(id) ?? '',
    setChoices: sets.filter((set) => set.seasonId === row.seasonId).map((set) => ({ value: set.id, label: set.name })),
  }
}

interface DaysGiven {
  readonly how: string
  readonly sownOn: string | null
  readonly plantedOn: string | null
  readonly clearedOn: string | null
}

const plantingStanding = (written: DaysWritten): Correctable<PlantingCorrected, DaysGiven> => ({
  ...ofTable(plantings),
  find: plantingWithSets,
  kind: 'plantings',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row, request) => [
    { name: 'areaCm2', label: f.oneArea, value: areaAsTyped(row.areaCm2, request.member.group.areaUnit) },
    { name: 'how', label: f.way, value: row.how, options: choicesOf(words.ways) },
    { name: 'sownOn', label: f.sown, type: 'date', value: row.sownOn ?? '' },
    { name: 'plantedOn', label: f.plantedOut, type: 'date', value: row.plantedOn ?? '' },
    { name: 'standsUntil', label: f.standsUntil, type: 'date', value: row.standsUntil ?? '' },
    { name: 'clearedOn', label: f.clearedOn, type: 'date', value: row.clearedOn ?? '' },
    { name: 'plants', label: f.plants, value: row.plants === null ? '' : String(row.plants) },
    { name: 'purpose', label: f.purpose, value: row.purpose, options: choicesOf(words.purposes) },
    { name: 'seedLot', label: f.seedLot, value: row.seedLot ?? '' },
    { name: 'spacing', label: f.spacing, value: row.spacing ?? '' },
    {
      name: 'interplanted',
      label: f.interplanted,
      value: row.interplanted ? 'yes' : 'no',
      options: choicesOf(words.yesOrNo),
    },
    {
      name: 'matchedSetId',
      label: f.matchedSet,
      value: row.matchedSetId ?? '',
      options: [{ value: '', label: words.inNoSet }, ...row.setChoices],
    },
  ],
  form: (request) => plantingCorrection(request.member.group.areaUnit),
  refuse: async (tx, row, given, request) => {
    if (!given) return undefined
    if (given.clearedOn && given.clearedOn > dayIn(request.member.group.timeZone, new Date()))
      return { clearedOn: words.ahead }
    const season = (await seasonsOf(tx, row.groupId)).find((one) => one.id === row.seasonId)
    if (season && seenFrom(season, given) === 'after') return { [firstDayOf(given)]: words.dayOutside }
    const { first, last } = await written(tx, row.groupId, row.id)
    if (last && given.clearedOn && given.clearedOn < last) return { clearedOn: words.writtenLater }
    const begun = given.sownOn ?? given.plantedOn
    if (!first || !begun || begun <= first) return undefined
    return { [given.sownOn ? 'sownOn' : 'plantedOn']: words.writtenEarlier }
  },
  constraints: {
    plantings_fit_their_bed: { areaCm2: words.bedFull },
    plantings_matched_set: { matchedSetId: catalogue.fields.notChosen },
    ...used,
  },
  back: (row, request) => at(request, `seasons/${row.seasonId}`),
})

export function seasonCorrections(app: FastifyInstance, { written }: { written: DaysWritten }): void {
  correcting(app, season)
  correcting(app, crop)
  correcting(app, plantingStanding(written))
}
