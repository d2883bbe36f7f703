import type { Known } from '../diary/known.ts'
import type { Field } from '../diary/refusal.ts'
import { refusalSaid } from '../diary/said.ts'
import { harvestForm } from '../diary/week.form.ts'
import { weighingRuled } from '../diary/weighing-rule.ts'
import { firstOf } from '../lookups/nth.ts'
import { formatDay, formatKilograms } from '../quantities/formatting.ts'
import { weekOf } from '../quantities/iso-week.ts'
import { optionalDate } from '../web/fields.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { type KnownRecord, type PlantingOfRecord, plantingStanding } from './known-record.ts'
import { LotsKnown } from './lots-known.ts'
import type { Cells } from './row-cells.ts'
import { type RowKind, type RowRead, refusedRow, wrongAt, wrongCells } from './row-kind.ts'

const words = catalogue.diary
const says = catalogue.rows.refused

/** One weighing of one planting a line, under the rules of the Week page. */
export const harvestRows: RowKind = {
  name: 'harvests',
  table: 'harvests',
  access: 'recorder',
  fields: [
    { name: 'day', isDay: true, required: true },
    { name: 'garden', required: true },
    { name: 'bed' },
    { name: 'crop', required: true },
    { name: 'cultivar' },
    { name: 'sown', isDay: true },
    { name: 'marketable', measure: 'weight', required: true },
    { name: 'unmarketable', measure: 'weight' },
    { name: 'unit' },
    { name: 'why' },
    { name: 'pieces' },
    { name: 'state' },
    { name: 'lifted', isDay: true },
    { name: 'same lot as', isDay: true },
    { name: 'seed lot' },
    { name: 'source' },
  ],
  reader: (known) => {
    const lots = new LotsKnown(known.lots)
    const reading = { known, form: harvestForm(known.weightUnit), lots, diary: lots.within(known.diary) }
    return (id, cells) => readHarvest(id, cells, reading)
  },
}

/** Made once: to make it anew for each line of a file took half of the reading. */
const dayOrNone = optionalDate()

const columnOf = { harvestedOn: 'day', plantingId: 'crop', liftedOn: 'lifted', seedLot: 'seed lot' }

interface Reading {
  readonly known: KnownRecord
  readonly form: ReturnType<typeof harvestForm>
  /** The weighings that stand, and those of earlier lines. */
  readonly lots: LotsKnown
  /** What is known, with these weighings. */
  readonly diary: Known
}

function readHarvest(id: string, cells: Cells, { known, form, lots, diary }: Reading): RowRead {
  const garden = known.gardenNamed(cells.of('garden'))
  const bed = cells.of('bed') && garden ? known.bedNamed(garden.id, cells.of('bed')) : undefined
  const typed = {
    id,
    plantingId: id,
    harvestedOn: cells.of('day'),
    containerId: '',
    surely: 'yes',
    marketable: cells.withUnit('marketable'),
    unmarketable: cells.withUnit('unmarketable'),
    why: reasonNamed(cells.of('why')),
    pieces: cells.of('pieces'),
    state: stateNamed(cells.of('state')),
    liftedOn: cells.of('lifted'),
    seedLot: cells.of('seed lot'),
    source: cells.of('source') || undefined,
  }
  const read = readForm(form, typed)
  const wrong = read.kind === 'refused' ? wrongCells(read.errors, columnOf) : []
  if (!garden) wrong.push({ field: 'garden', reason: says.noGarden })
  if (garden && cells.of('bed') && !bed) wrong.push({ field: 'bed', reason: says.noBed })
  if (typed.why === undefined) wrong.push({ field: 'why', reason: says.noReason })
  if (typed.state === undefined) wrong.push({ field: 'state', reason: says.noState })
  if (wrong.length > 0 || read.kind === 'refused' || !garden) return refusedRow(wrong)

  const given = read.value
  const isoWeek = weekOf(given.harvestedOn)
  const cultivar = cells.of('cultivar').toLowerCase()
  const fitting = known
    .plantingsIn(garden.id, cells.of('crop'))
    .filter((one) => (!bed || one.bedId === bed.id) && (!cultivar || one.cultivar.toLowerCase() === cultivar))
  const sown = dayOrNone.safeParse(cells.of('sown'))
  if (!sown.success) return wrongAt('sown', firstOf(sown.error.issues).message)
  const onDay = fitting.filter((one) => sown.data === null || [one.sownOn, one.plantedOn].includes(sown.data))
  if (fitting.length > 0 && onDay.length === 0) return wrongAt('sown', says.noneSownThen)
  const found = plantingStanding(
    onDay,
    given.liftedOn ?? given.harvestedOn,
    given.state !== null && given.state !== 'fresh',
  )
  if (found.kind === 'refused') {
    if (found.why === 'several') return severalFit(fitting, sown.data)
    const [field, reason] = plantingWrong[found.why]
    return wrongAt(field, reason)
  }
  const { planting } = found
  const before = dayOrNone.safeParse(cells.of('same lot as'))
  if (!before.success) return wrongAt('same lot as', firstOf(before.error.issues).message)
  const sameLots = before.data === null ? [] : lots.of(planting.id, before.data)
  const [sameLotAs = null, ...othersThen] = sameLots
  if (before.data !== null && sameLotAs === null) return wrongAt('same lot as', says.noLot)
  if (othersThen.length > 0) return wrongAt('same lot as', says.severalLots)
  const asked = (surely: boolean) =>
    weighingRuled(diary, {
      id,
      isoWeek,
      from: [planting.id],
      shareRule: null,
      shares: new Map(),
      harvestedOn: given.harvestedOn,
      marketable: given.marketable,
      unmarketable: given.unmarketable,
      why: given.why,
      pieces: given.pieces,
      state: given.state,
      liftedOn: given.liftedOn,
      sameLotAs,
      seedLot: given.seedLot,
      containerId: null,
      source: given.source,
      surely,
    })
  // What is right without being asked about is right with it.
  const question = asked(false)
  const ruled = question.kind === 'answer' ? question : asked(true)
  if (ruled.kind === 'refused') {
    const said = ruled.code === 'isClosed' ? says.weekClosed : refusalSaid(ruled, catalogue, known.locale)
    return wrongAt(ruled.code === 'isClosed' ? 'day' : (columnOfRule[ruled.field] ?? 'crop'), said)
  }
  const { grossG: _gross, containerId: _box, shareRule: _rule, ...row } = ruled.row.harvest
  // No line of a file without that column names another.
  if (cells.has('same lot as'))
    lots.add(id, { ...row, plantingId: planting.id, grams: row.marketableG + row.unmarketableG })
  return {
    kind: 'answer',
    row,
    ask: question.kind === 'refused' ? () => refusalSaid(question, catalogue, known.locale) : undefined,
    shown: () => [
      formatDay(given.harvestedOn, known.locale),
      `${known.nameOf(planting.id)} · ${garden.name}`,
      formatKilograms(row.marketableG, known.locale),
      formatKilograms(row.unmarketableG, known.locale),
      given.pieces === null ? '' : String(given.pieces),
    ],
  }
}

const columnOfRule: Partial<Record<Field, string>> = {
  day: 'day',
  marketable: 'marketable',
  why: 'why',
  lifted: 'lifted',
  sameLot: 'same lot as',
  seedLot: 'seed lot',
}

const plantingWrong = {
  none: ['crop', says.noPlanting],
  beforeSown: ['day', words.beforeSown],
  afterCleared: ['day', words.afterCleared],
  noneStands: ['day', says.noneStands],
} as const

/** What would tell them apart: the bed and the cultivar, or the day where those are one. */
function severalFit(fitting: readonly PlantingOfRecord[], sown: string | null): RowRead {
  const places = new Set(fitting.map((one) => `${one.bedId} ${one.cultivar}`))
  if (places.size > 1) return wrongAt('bed', says.severalPlantings)
  return wrongAt('sown', sown === null ? says.severalSowings : says.severalThatDay)
}

/** The words of a list by what each is stored as and by what pages show, whichever stands first. */
function wordsNamed(list: Readonly<Record<string, string>>): ReadonlyMap<string, string> {
  const named = new Map<string, string>([['', '']])
  for (const [name, shown] of Object.entries(list))
    for (const one of [name, shown]) if (!named.has(one)) named.set(one, name)
  return named
}

const [states, reasons] = [wordsNamed(words.states), wordsNamed(words.reasons)]

/** Blank is the state that its crop counts. */
const stateNamed = (text: string): string | undefined => states.get(text.toLowerCase())

/** The stored word for a reason by itself or by the word that pages show; undefined where there is none. */
const reasonNamed = (text: string): string | undefined => reasons.get(text.toLowerCase())
