import type { z } from 'zod'
import { idOf } from '../db/new-id.ts'
import { inputsOf } from '../inputs/deliveries.queries.ts'
import { deliveryForm, spreadingForm } from '../inputs/inputs.form.ts'
import { enterDelivery } from '../inputs/loads.routes.ts'
import { manureStateOf } from '../inputs/manure-interval.ts'
import { enterSpreading, enterSpreadingOver } from '../inputs/spreading.routes.ts'
import { asShown, linkOf, sent } from '../lookups/unsaid.ts'
import { daysOf, dayUnsaid } from '../quantities/iso-week.ts'
import { readForm } from '../web/form.ts'
import { dayTyped } from './days-typed.ts'
import { isDivided } from './hours-rule.ts'
import type { WrongSheetCell } from './sheet-saving.routes.ts'
import { phaseOf, seasonOfDay } from './week-rules.ts'
import type { WeekSheet } from './week-sheet.form.ts'
import type { Writing } from './writing.routes.ts'

export interface LoadsSaved {
  readonly count: number
  /** What was spread lies on ground that carries several phases or methods, and is divided by area among them. */
  readonly divided: boolean
}

/** What came and what was spread, by the rules of the page of inputs; how many of the two were stored. */
export async function broughtAndSpread(
  at: Writing,
  sheet: WeekSheet,
  wrong: Map<string, WrongSheetCell>,
): Promise<LoadsSaved> {
  const came = await brought(at, sheet, wrong)
  const spread = await spreadNow(at, sheet, { came, wrong })
  return { count: Number(came !== null) + Number(spread !== 'none'), divided: spread === 'divided' }
}

/** What stands in the form of a load for a field that this sheet has not. */
const blank = { basis: '', moisture: '', densityKgPerM3: '', nitrogen: '', phosphorus: '', potassium: '', source: '' }

/** The id of the delivery, where one was stored. */
async function brought(at: Writing, sheet: WeekSheet, wrong: Map<string, WrongSheetCell>): Promise<string | null> {
  const typed = sheet.came
  if (!typed || ![typed.input, typed.quantity, typed.price].some((one) => one?.trim())) return null
  const say = (sentence: string) => {
    wrong.set('came', { sentence, ask: false })
    return null
  }
  const input = (await inputsOf(at.tx, at.author.groupId)).find((one) => one.id === typed.input)
  if (!input) return say(at.words.week.whichInput)
  const deliveredOn = dayOf(at, typed.day, sheet)
  if (deliveredOn === undefined) return say(at.words.fields.noSuchDay)
  const id = idOf(sheet.id, 'came')
  const form = readForm(deliveryForm(at.request.member.group.currency), {
    id,
    name: input.name,
    kind: input.kind,
    unit: input.unit,
    ownMade: input.ownMade === 1 ? 'own' : 'bought',
    usefulLifeSeasons: String(input.usefulLifeSeasons),
    rawManure: manureStateOf(input.rawManure),
    ...blank,
    quantityThousandths: sent(typed.quantity),
    priceMinor: sent(typed.price),
    deliveryPriceMinor: '',
    orderedOn: '',
    deliveredOn,
    supplier: '',
    note: '',
  })
  const errors = form.kind === 'refused' ? form.errors : await enterDelivery(at, form.value)
  return errors ? say(Object.values(errors)[0] ?? at.words.diary.notTaken) : id
}

async function spreadNow(
  at: Writing,
  sheet: WeekSheet,
  { came, wrong }: { came: string | null; wrong: Map<string, WrongSheetCell> },
): Promise<'none' | 'whole' | 'divided'> {
  const typed = sheet.spread
  if (!typed || ![typed.load, typed.place, typed.quantity].some((one) => one?.trim())) return 'none'
  const say = (sentence: string): 'none' => {
    wrong.set('spread', { sentence, ask: false })
    return 'none'
  }
  const appliedOn = dayOf(at, typed.day, sheet)
  if (appliedOn === undefined) return say(at.words.fields.noSuchDay)
  const season = seasonOfDay(at.known.seasons, appliedOn)
  if (!season) return say(at.words.diary.noSeason)
  const places = [...new Set([...(typed.place?.trim() ? [typed.place] : []), ...typed.over])]
  const grounds = places.map((place) => groundOf(at, place))
  if (places.length === 0 || grounds.includes(undefined)) return say(at.words.week.whichPlace)
  const laid = grounds.flatMap((ground) => {
    const phase = ground && phaseOf(at.known, season.id, [ground])
    if (ground === undefined || phase === undefined) return []
    const gardenId = ground.bedId === null ? ground.gardenId : null
    return [{ phase, divided: isDivided(at.known, { gardenId, seasonId: season.id, phase }) }]
  })
  if (laid.length < grounds.length) return say(at.words.diary.phaseUnknown)
  const form = readForm(spreadingForm, {
    id: idOf(sheet.id, 'spread'),
    deliveryId: typed.load === 'came' ? linkOf(came) : sent(typed.load),
    place: asShown(places[0]),
    quantityThousandths: sent(typed.quantity),
    appliedOn,
    seasonId: season.id,
    phase: '',
    depthMm: sent(typed.depth),
  })
  const errors = form.kind === 'refused' ? form.errors : await enterOver(at, form.value, places)
  if (errors) return say(Object.values(errors)[0] ?? at.words.diary.notTaken)
  return laid.some((one) => one.divided) ? 'divided' : 'whole'
}

/** One place takes it all; several take it by their area, each a row of its own. */
async function enterOver(at: Writing, given: z.output<typeof spreadingForm>, places: readonly string[]) {
  if (places.length < 2) return enterSpreading(at, given)
  return enterSpreadingOver(at, { ...given, seasonId: null, phase: null }, places)
}

function groundOf(at: Writing, place: string) {
  const [kind, id = ''] = place.split(':')
  if (kind === 'garden') return at.known.gardens.has(id) ? { gardenId: id, bedId: null } : undefined
  const gardenId = kind === 'bed' ? at.known.gardenOfBed.get(id) : undefined
  return gardenId === undefined ? undefined : { gardenId, bedId: id }
}

function dayOf(at: Writing, own: string | undefined, sheet: WeekSheet) {
  const said = own?.trim() || sheet.day?.trim()
  return said ? dayTyped(said, daysOf(at.week), at.locale) : dayUnsaid(at.week, at.known.today)
}
