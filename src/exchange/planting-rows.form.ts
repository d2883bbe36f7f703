import { z } from 'zod'
import { seasonOfDay } from '../diary/week-rules.ts'
import { asShown } from '../lookups/unsaid.ts'
import { formatArea, formatDay } from '../quantities/formatting.ts'
import { firstDayOf, seenFrom } from '../seasons/days-of-season.ts'
import { fitsIn, type Taking } from '../seasons/room-in-bed.ts'
import { plantingCorrection } from '../seasons/seasons.form.ts'
import { text } from '../web/fields.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import type { KnownRecord } from './known-record.ts'
import type { Cells } from './row-cells.ts'
import { type RowKind, type RowRead, refusedRow, wrongAt, wrongCells } from './row-kind.ts'

const words = catalogue.seasons
const says = catalogue.rows.refused

/** One planting in one bed a line. */
export const plantingRows: RowKind = {
  name: 'plantings',
  table: 'plantings',
  access: 'keeper',
  fields: [
    { name: 'garden', required: true },
    { name: 'bed', required: true },
    { name: 'crop', required: true },
    { name: 'cultivar', required: true },
    { name: 'area', measure: 'area', required: true },
    { name: 'sown', isDay: true },
    { name: 'planted', isDay: true },
    { name: 'cleared', isDay: true },
    { name: 'stands until', isDay: true },
    { name: 'how' },
    { name: 'purpose' },
    { name: 'plants' },
    { name: 'interplanted' },
    { name: 'stands over seasons' },
    { name: 'establishing seasons' },
    { name: 'spacing' },
    { name: 'seed lot' },
    { name: 'raised in' },
    { name: 'season' },
    { name: 'set' },
  ],
  reader: (known) => {
    const form = plantingCorrection(known.areaUnit)
    const planted = new Map<string, Taking[]>()
    return (id, cells) => readPlanting(id, cells, { known, form, planted })
  },
}

const columnOf = {
  areaCm2: 'area',
  sownOn: 'sown',
  plantedOn: 'planted',
  clearedOn: 'cleared',
  standsUntil: 'stands until',
  establishingSeasons: 'establishing seasons',
  seedLot: 'seed lot',
  raisedInBedId: 'raised in',
}

interface Reading {
  readonly known: KnownRecord
  readonly form: ReturnType<typeof plantingCorrection>
  /** What earlier lines of the file plant in each bed. */
  readonly planted: Map<string, Taking[]>
}

const cultivarForm = z.object({ cultivar: text({ most: 80 }) })

function readPlanting(id: string, cells: Cells, { known, form, planted }: Reading): RowRead {
  const garden = known.gardenNamed(cells.of('garden'))
  const bed = garden && known.bedNamed(garden.id, cells.of('bed'))
  const crop = known.cropNamed(cells.of('crop'))
  const nursery = nurseryNamed(cells.of('raised in'), garden?.id, known)
  const interplanted = yesOrNo(cells.of('interplanted'))
  const standsOverSeasons = yesOrNo(cells.of('stands over seasons'))
  const read = readForm(form, {
    areaCm2: cells.withUnit('area'),
    how: cells.of('how').toLowerCase() || 'direct',
    sownOn: cells.of('sown'),
    plantedOn: cells.of('planted'),
    clearedOn: cells.of('cleared'),
    standsUntil: cells.of('stands until'),
    plants: cells.of('plants'),
    purpose: cells.of('purpose').toLowerCase() || 'harvest',
    interplanted,
    standsOverSeasons,
    establishingSeasons: cells.of('establishing seasons'),
    seedLot: cells.of('seed lot'),
    spacing: cells.of('spacing'),
    raisedInBedId: nursery ? nursery.id : '',
    matchedSetId: '',
  })
  const named = readForm(cultivarForm, { cultivar: cells.of('cultivar') })
  const errors = { ...(read.kind === 'refused' && read.errors), ...(named.kind === 'refused' && named.errors) }
  const wrong = wrongCells(errors, columnOf)
  if (!garden) wrong.push({ field: 'garden', reason: says.noGarden })
  if (garden && !bed) wrong.push({ field: 'bed', reason: says.noBed })
  if (nursery === null) wrong.push({ field: 'raised in', reason: says.noNursery })
  if (!crop) wrong.push({ field: 'crop', reason: says.noCrop })
  if (interplanted === null) wrong.push({ field: 'interplanted', reason: says.yesOrNo })
  if (standsOverSeasons === null) wrong.push({ field: 'stands over seasons', reason: says.yesOrNo })
  if (wrong.length > 0 || read.kind === 'refused' || named.kind === 'refused' || !bed || !crop) return refusedRow(wrong)

  const { matchedSetId: _none, cropId: _crop, cultivar: _cultivar, bedId: _bed, together: _set, ...rest } = read.value
  const { seasonId: _season, ...given } = rest
  const first = asShown(given.sownOn ?? given.plantedOn)
  const season = cells.of('season') ? known.seasonNamed(cells.of('season')) : seasonOfDay(known.seasons, first)
  if (!season) return wrongAt('season', cells.of('season') ? says.noSeason : catalogue.diary.noSeason)
  if (seenFrom(season, given) === 'after') return wrongAt(columnOf[firstDayOf(given)], words.dayOutside)
  if (asShown(given.clearedOn) > known.today) return wrongAt('cleared', catalogue.diary.ahead)
  const beside = planted.get(bed.id) ?? known.plantingsOfBed(bed.id)
  if (!fitsIn(bed.areas, beside, given)) return wrongAt('area', words.bedFull)
  planted.set(bed.id, [...beside, given])
  const cultivar = named.value.cultivar
  return {
    kind: 'answer',
    row: { id, seasonId: season.id, bedId: bed.id, cropId: crop.id, cultivar, setName: cells.of('set'), ...given },
    shown: () => [
      `${crop.name}, ${cultivar}`,
      `${garden.name}, ${bed.name}`,
      formatArea(given.areaCm2, known.locale),
      formatDay(first, known.locale),
      given.clearedOn ? formatDay(given.clearedOn, known.locale) : '',
    ],
  }
}

/**
 * The nursery bed that a line names: "Terrace, Nursery" with its garden, or a bed of the line's own garden; undefined
 * where it names none, null where there is none of that name.
 */
function nurseryNamed(typed: string, gardenId: string | undefined, known: KnownRecord) {
  if (typed === '') return undefined
  const own = gardenId === undefined ? undefined : known.bedNamed(gardenId, typed)
  if (own) return own
  for (let at = typed.indexOf(','); at >= 0; at = typed.indexOf(',', at + 1)) {
    const garden = known.gardenNamed(typed.slice(0, at))
    const bed = garden && known.bedNamed(garden.id, typed.slice(at + 1))
    if (bed) return bed
  }
  return null
}

/** "yes" as a ticked box; null where it is neither. */
function yesOrNo(typed: string): string | undefined | null {
  if (['', 'no', '0'].includes(typed.toLowerCase())) return undefined
  return ['yes', '1'].includes(typed.toLowerCase()) ? 'yes' : null
}
