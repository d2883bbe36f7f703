import { formatDay } from '../quantities/formatting.ts'
import { withSign } from '../quantities/printed-limits.ts'
import { errorStored } from '../soil/laboratory-error.ts'
import { soilTestForm } from '../soil/soil.form.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import type { KnownRecord } from './known-record.ts'
import type { Cells } from './row-cells.ts'
import { type RowKind, type RowRead, refusedRow, wrongAt, wrongCells } from './row-kind.ts'

const says = catalogue.rows.refused

/** One value of one sample a line, as the laboratory printed it. */
export const soilRows: RowKind = {
  name: 'soil',
  table: 'soil_tests',
  access: 'recorder',
  fields: [
    { name: 'day', isDay: true, required: true },
    { name: 'site' },
    { name: 'garden' },
    { name: 'bed' },
    { name: 'laboratory', required: true },
    { name: 'extractant' },
    { name: 'analyte', required: true },
    { name: 'value', required: true },
    { name: 'unit', required: true },
    { name: 'error' },
    { name: 'depth', measure: 'length' },
  ],
  reader: (known) => (id, cells) => readTest(id, cells, known),
}

const columnOf = { sampledOn: 'day', place: 'site', depthMm: 'depth', standardError: 'error' }

/**
 * Where it was taken, as the form of the soil page names it; that of the line's own id where the line names no place.
 */
function placeIn(id: string, cells: Cells, known: KnownRecord) {
  const garden = cells.of('garden') ? known.gardenNamed(cells.of('garden')) : undefined
  const bed = cells.of('bed') && garden ? known.bedNamed(garden.id, cells.of('bed')) : undefined
  const siteId = garden?.siteId ?? known.siteNamed(cells.of('site'))?.id
  const place = bed ? `bed:${bed.id}` : garden ? `garden:${garden.id}` : `site:${siteId ?? id}`
  return { garden, bed, siteId, place }
}

function readTest(id: string, cells: Cells, known: KnownRecord): RowRead {
  const { garden, bed, siteId, place } = placeIn(id, cells, known)
  const read = readForm(soilTestForm, {
    id,
    place,
    sampledOn: cells.of('day'),
    laboratory: cells.of('laboratory'),
    analyte: cells.of('analyte'),
    extractant: cells.of('extractant'),
    value: cells.of('value'),
    unit: cells.of('unit'),
    standardError: cells.of('error'),
    depthMm: cells.withUnitOfHeading('depth'),
    lowUnder: '',
    highFrom: '',
  })
  const wrong = read.kind === 'refused' ? wrongCells(read.errors, columnOf) : []
  if (cells.of('garden') && !garden) wrong.push({ field: 'garden', reason: says.noGarden })
  else if (!siteId) wrong.push({ field: 'site', reason: says.noSite })
  if (cells.of('bed') && !bed) wrong.push({ field: 'bed', reason: says.noBed })
  if (wrong.length > 0 || read.kind === 'refused') return refusedRow(wrong)

  const { sampledOn, laboratory, extractant, analyte, unit, depthMm } = read.value
  const { value, beyond } = read.value.value
  if (sampledOn > known.today) return wrongAt('day', catalogue.diary.ahead)
  return {
    kind: 'answer',
    row: {
      id,
      siteId,
      gardenId: garden?.id ?? null,
      bedId: bed?.id ?? null,
      sampledOn,
      laboratory,
      extractant,
      analyte,
      value,
      beyond,
      unit,
      ...errorStored(read.value.standardError, unit),
      depthMm,
    },
    shown: () => [
      formatDay(sampledOn, known.locale),
      [cells.of('site'), cells.of('garden'), cells.of('bed')].filter(Boolean).join(', '),
      [analyte, extractant].filter(Boolean).join(', '),
      `${withSign(value, beyond)} ${unit}`,
      depthMm === null ? '' : `${depthMm} mm`,
    ],
  }
}
