import { z } from 'zod'
import type { IsoDate } from '../quantities/dates.ts'
import { date, optionalDate, optionalText, text, uuid } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'

const words = () => wordsHere().decisions

const ofDecision = {
  seasonId: uuid(),
  decidedOn: date(),
  decision: text({ most: 500 }),
  finding: text({ most: 500 }),
  expected: text({ most: 500 }),
  lookAgainOn: optionalDate(),
}

const lookAfter = (given: { decidedOn: IsoDate; lookAgainOn: IsoDate | null }) =>
  given.lookAgainOn === null || given.lookAgainOn > given.decidedOn

const afterwards = { error: () => words().lookFirst, path: ['lookAgainOn'] }

export const decisionForm = z.object({ id: uuid(), ...ofDecision }).refine(lookAfter, afterwards)

export const decisionCorrection = z
  .object({ ...ofDecision, happened: optionalText({ most: 500 }) })
  .refine(lookAfter, afterwards)

export const happenedForm = z.object({ decisionId: uuid(), happened: text({ most: 500 }) })
