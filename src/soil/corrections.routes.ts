import type { FastifyInstance } from 'fastify'
import { amend, markRemoved, rowOf } from '../db/amend.ts'
import { asShown } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { withSign } from '../quantities/printed-limits.ts'
import { type Correctable, correcting } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import { bandsFrom } from './bands.ts'
import { errorStored, errorTyped } from './laboratory-error.ts'
import { placeValue, type SamplePlace } from './places.ts'
import { type SoilTestGiven, soilTestCorrection } from './soil.form.ts'
import { type SoilTestRow, samplePlacesOf } from './soil.queries.ts'
import { samplePlaceName } from './soil.routes.ts'
import { soilTests } from './soil.table.ts'

const words = () => wordsHere().soil
const f = () => words().fields

interface TestWithPlaces extends SoilTestRow {
  readonly places: readonly SamplePlace[]
}

const soilTest: Correctable<TestWithPlaces, SoilTestGiven> = {
  kind: 'soil-tests',
  access: 'recorder',
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, soilTests, groupId, id)
    return row && { ...row, places: await samplePlacesOf(tx, groupId) }
  },
  title: (row) => `${row.analyte}, ${row.sampledOn}`,
  fields: (row) => {
    const bands = bandsFrom(row.bands)
    return [
      {
        name: 'place',
        label: f().place,
        value: placeValue(row),
        options: row.places.map((place) => ({ value: place.value, label: samplePlaceName(place) })),
      },
      { name: 'sampledOn', label: f().day, value: row.sampledOn, type: 'date' },
      { name: 'laboratory', label: f().laboratory, value: row.laboratory },
      { name: 'analyte', label: f().analyte, value: row.analyte },
      { name: 'extractant', label: f().extractant, hint: f().extractantHint, value: asShown(row.extractant) },
      { name: 'value', label: f().value, value: withSign(row.value, row.beyond) },
      { name: 'unit', label: f().unit, value: row.unit },
      { name: 'standardError', label: f().standardError, hint: f().standardErrorHint, value: errorTyped(row) },
      { name: 'depthMm', label: f().depth, value: row.depthMm === null ? '' : `${row.depthMm / 10} cm` },
      { name: 'lowUnder', label: f().lowUnder, hint: f().bandsHint, value: asShown(bands?.lowUnder) },
      { name: 'highFrom', label: f().highFrom, value: asShown(bands?.highFrom) },
    ]
  },
  form: () => soilTestCorrection,
  save: (tx, seen, { place, lowUnder, highFrom, standardError, value: { value, beyond }, ...given }, row) => {
    const where = row.places.find((one) => one.value === place)
    const at = where && { siteId: where.siteId, gardenId: where.gardenId, bedId: where.bedId }
    const bands = lowUnder === null && highFrom === null ? null : { lowUnder, highFrom }
    const error = errorStored(standardError, given.unit)
    return amend(tx, soilTests, seen, { ...given, value, beyond, ...error, ...at, bands })
  },
  remove: (tx, seen, reason) => markRemoved(tx, soilTests, seen, reason),
  refuse: async (_tx, row, given, request) => {
    if (!given) return undefined
    if (given.sampledOn > dayIn(request.member.group.timeZone, new Date())) return { sampledOn: words().dayAhead }
    return row.places.some((one) => one.value === given.place) ? undefined : { place: wordsHere().fields.notChosen }
  },
  back: (_row, request) => `/g/${request.member.group.slug}/soil`,
}

export function soilCorrections(app: FastifyInstance): void {
  correcting(app, soilTest)
}
