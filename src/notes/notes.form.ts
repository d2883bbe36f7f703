import { z } from 'zod'
import { sent } from '../lookups/unsaid.ts'
import type { AreaUnit } from '../quantities/areas.ts'
import {
  area,
  choice,
  date,
  decimal,
  optional,
  optionalText,
  printed,
  said,
  text,
  uuid,
  wholeNumber,
} from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { noteKinds, usualCountNames, usualCountOf } from './kinds.ts'

const words = () => wordsHere().notes
/** "garden:<id>" or "bed:<id>" */
const place = () =>
  z.string(said((w) => w.notChosen)).regex(
    /^(garden|bed):[0-9a-f-]{36}$/,
    said((w) => w.notChosen),
  )

const ofNote = () => ({
  place: place(),
  seenOn: date(),
  kind: choice(noteKinds),
  words: text({ most: 2000 }),
  severity: optional(wholeNumber({ least: 0, most: 5 })),
})
export const noteCorrection = z.object(ofNote())
export const noteForm = noteCorrection.extend({ id: uuid() })
export type NoteGiven = z.infer<typeof noteCorrection>

interface Counted {
  readonly what: string
  readonly value: string
  readonly outOf: string | null
}

/** Outside what is usual: asked once, and kept if it is meant. */
function isOdd({ what, value }: Pick<Counted, 'what' | 'value'>): boolean {
  const usual = usualCountOf(what)
  if (!usual || !('usually' in usual)) return false
  const [least, most] = usual.usually
  return Number(value) < least || Number(value) > most
}

const countHolds = (given: Counted, context: z.RefinementCtx) => {
  const say = (path: string, message: string) => context.addIssue({ code: 'custom', path: [path], message })
  const usual = usualCountOf(given.what)
  if (Number(given.value) < 0 && !usual?.belowZero) say('value', words().belowZero)
  if (usual?.outOf && given.outOf === null) say('outOf', words().outOfMissing)
  if (given.outOf !== null && Number(given.value) > Number(given.outOf)) say('outOf', words().moreThanAll)
}

/** A count that names its planting need not say where that stands. */
const ofCount = () => ({
  place: z
    .union(
      [z.literal(''), place()],
      said((w) => w.notChosen),
    )
    .default(''),
  plantingId: optional(uuid()),
  countedOn: date(),
  method: text({ most: 200 }),
  value: printed(),
  outOf: optional(printed()),
})

/** What is counted is chosen, or named with its unit where it is none of the usual ones. */
export const countForm = z
  .object({
    id: uuid(),
    what: choice([...usualCountNames, 'other']),
    otherWhat: optionalText({ most: 60 }),
    otherUnit: optionalText({ most: 20 }),
    surely: z.string().optional(),
    ...ofCount(),
  })
  .superRefine((given, context) => {
    const say = (path: string) =>
      context.addIssue({ code: 'custom', path: [path], message: wordsHere().fields.missing })
    if (given.what === 'other' && given.otherWhat === null) say('otherWhat')
    if (given.what === 'other' && given.otherUnit === null) say('otherUnit')
    countHolds(given, context)
    if (given.surely === undefined && isOdd(given)) {
      context.addIssue({ code: 'custom', path: ['surely'], message: words().oddTemperature(given.value) })
    }
  })
  .transform(({ what, otherWhat, otherUnit, surely: _surely, ...given }) => {
    const unit = usualCountOf(what)?.unit
    return { ...given, what: unit ? what : sent(otherWhat), unit: sent(unit ?? otherUnit) }
  })

export const countCorrection = z
  .object({ what: text({ most: 60 }), unit: text({ most: 20 }), ...ofCount() })
  .superRefine(countHolds)
export type CountGiven = z.infer<typeof countCorrection>

const ofPatch = (unit: AreaUnit) => ({
  place: place(),
  seenOn: date(),
  species: text({ most: 80 }),
  areaCm2: optional(area(unit)),
  cover: optional(decimal({ least: 0, most: 100 })),
  shootsPerM2: optional(wholeNumber({ least: 0, most: 100_000 })),
  position: optionalText({ most: 200 }),
})

/** A patch has an area, a share of ground that it covers, or both. */
const isMeasured = (given: { areaCm2: number | null; cover: number | null }) =>
  given.areaCm2 !== null || given.cover !== null
const notMeasured = { error: () => words().areaOrCover, path: ['areaCm2'] }

/** One decimal of a per cent is kept. */
const inPermille = <T extends { cover: number | null }>({ cover, ...given }: T) => ({
  ...given,
  coverPermille: cover === null ? null : Math.round(10 * cover),
})
export const patchCorrection = (unit: AreaUnit) =>
  z.object(ofPatch(unit)).refine(isMeasured, notMeasured).transform(inPermille)
export const patchForm = (unit: AreaUnit) =>
  z
    .object({ id: uuid(), ...ofPatch(unit) })
    .refine(isMeasured, notMeasured)
    .transform(inPermille)
export type PatchGiven = z.infer<ReturnType<typeof patchCorrection>>
