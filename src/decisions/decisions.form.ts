import { z } from 'zod'
import { readSigned } from '../quantities/decimals.ts'
import { choice, date, optional, optionalDate, optionalText, reading, text, uuid } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { asksFor, type ExpectedMeasure, expectedMeasures, unitExpected } from './expectation.ts'
import { thousandthsIn } from './figure-handed.ts'

const words = () => wordsHere().decisions

/** Less than nothing where one method is expected to take less than another. */
const signed = () =>
  reading(readSigned, (w) => w.notNumber).refine((value) => Math.abs(value) <= 1_000_000_000, {
    error: () => words().tooLarge,
  })

const figure = {
  measure: optional(choice(expectedMeasures)),
  expectedFigure: optional(signed()),
  expectedLow: optional(signed()),
  expectedHigh: optional(signed()),
  aboutSeasonId: optional(uuid()),
  methodId: optional(uuid()),
  besideMethodId: optional(uuid()),
  /** "garden:<id>" or "bed:<id>". */
  ground: optional(z.string().regex(/^(garden|bed):[0-9a-f-]{36}$/, { error: () => wordsHere().fields.notChosen })),
  inputId: optional(uuid()),
}

const ofDecision = {
  seasonId: uuid(),
  decidedOn: date(),
  decision: text({ most: 500 }),
  finding: text({ most: 500 }),
  expected: text({ most: 500 }),
  lookAgainOn: optionalDate(),
  question: optionalText({ most: 300 }),
  assumptions: optionalText({ most: 3000 }),
  /** Below the group's: a page of Decide, of Compare or of Soil. */
  address: optional(
    z
      .string()
      .max(2000, { error: () => wordsHere().fields.tooLong(2000) })
      .regex(/^(decide|compare|soil)([/?][\x21-\x7e]*)?$/, { error: () => words().notAddress }),
  ),
  ...figure,
}

type FigureTyped = z.output<z.ZodObject<typeof figure>>
type Wrong = readonly [field: keyof FigureTyped, message: string]

/** What is missing for the measure, or does not go together. */
function wrongIn(given: FigureTyped): Wrong[] {
  const { measure, expectedFigure, expectedLow, expectedHigh, methodId, besideMethodId } = given
  const { missing, notChosen } = wordsHere().fields
  if (measure === null) return expectedFigure === null ? [] : [['measure', notChosen]]
  const blank = asksFor[measure].filter((name) => given[name] === null).map((name): Wrong => [name, notChosen])
  const half: Wrong[] = [
    ...(expectedLow === null && expectedHigh !== null ? [['expectedLow', missing] as const] : []),
    ...(expectedLow !== null && expectedHigh === null ? [['expectedHigh', missing] as const] : []),
  ]
  const [low, high] = [expectedLow ?? expectedFigure, expectedHigh ?? expectedFigure]
  const isApart =
    expectedFigure !== null && low !== null && high !== null && (low > expectedFigure || high < expectedFigure)
  return [
    ...blank,
    ...(expectedFigure === null ? [['expectedFigure', missing] as const] : []),
    ...half,
    ...(isApart ? [['expectedLow', words().rangeApart] as const] : []),
    ...(methodId !== null && methodId === besideMethodId ? [['besideMethodId', words().twoMethods] as const] : []),
  ]
}

/** As it is stored; what does not belong to the measure is left out. */
function stored({ measure, expectedFigure, expectedLow, expectedHigh, ...given }: FigureTyped, currency: string) {
  const ground = given.ground?.split(':')
  const [kind, id] = ground && measure && groundCounts(measure) ? ground : []
  const times = measure === null ? 1 : thousandthsIn(measure, currency)
  const thousandths = (value: number | null) => (value === null || measure === null ? null : Math.round(value * times))
  const of = <T>(value: T) => (measure === null ? null : value)
  return {
    measure,
    unit: measure && unitExpected[measure],
    expectedThousandths: thousandths(expectedFigure),
    lowThousandths: thousandths(expectedLow),
    highThousandths: thousandths(expectedHigh),
    aboutSeasonId: of(given.aboutSeasonId),
    methodId: measure === 'workOnGround' ? null : of(given.methodId),
    besideMethodId: measure && besideCounts(measure) ? given.besideMethodId : null,
    gardenId: kind === 'garden' && id !== undefined ? id : null,
    bedId: kind === 'bed' && id !== undefined ? id : null,
    inputId: measure === 'spread' ? given.inputId : null,
  }
}

const groundCounts = (measure: ExpectedMeasure) => measure === 'workOnGround' || measure === 'spread'
const besideCounts = (measure: ExpectedMeasure) => !groundCounts(measure) && measure !== 'minorPerHour'

type Said = FigureTyped & Pick<z.output<z.ZodObject<typeof ofDecision>>, 'decidedOn' | 'lookAgainOn'>

function hold(given: Said, context: z.RefinementCtx): void {
  const early = given.lookAgainOn !== null && given.lookAgainOn <= given.decidedOn
  const wrong = early ? [['lookAgainOn', words().lookFirst] as const, ...wrongIn(given)] : wrongIn(given)
  for (const [field, message] of wrong) context.addIssue({ code: 'custom', message, path: [field] })
}

function columnsOf(given: z.output<z.ZodObject<typeof ofDecision>>, currency: string) {
  const { seasonId, decidedOn, decision, finding, expected, lookAgainOn, question, assumptions, address } = given
  const kept = { seasonId, decidedOn, decision, finding, expected, lookAgainOn, question, assumptions, address }
  return { ...kept, ...stored(given, currency) }
}

export const decisionForm = (currency: string) =>
  z
    .object({ id: uuid(), ...ofDecision })
    .superRefine(hold)
    .transform(({ id, ...given }) => ({ id, ...columnsOf(given, currency) }))

export const decisionCorrection = (currency: string) =>
  z
    .object({ ...ofDecision, happened: optionalText({ most: 500 }) })
    .superRefine(hold)
    .transform(({ happened, ...given }) => ({ happened, ...columnsOf(given, currency) }))

export const happenedForm = z.object({ decisionId: uuid(), happened: text({ most: 500 }) })
