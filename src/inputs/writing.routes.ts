import type { FastifyRequest } from 'fastify'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { dayIn } from '../quantities/dates.ts'
import { wordsHere } from '../web/words-here.ts'
import { measuresOf } from './measures.queries.ts'
import { type Counted, inUnitOf } from './measures.ts'

export type InputErrors = Record<string, string>

/** One form of the inputs page on its way into the record. */
export interface InputWriting {
  readonly tx: Tx
  readonly author: Author
  readonly request: FastifyRequest
}

const words = () => wordsHere().inputs
const mostThousandths = 2_000_000_000

export const todayHere = (request: FastifyRequest) => dayIn(request.member.group.timeZone, new Date())

interface CountedInput {
  readonly unit: string
  readonly densityKgPerM3: number | null
}

/** "12 barrows" in the unit that the input is counted in, or the sentence that says what is missing for that. */
export async function quantityIn(
  tx: Tx,
  groupId: string,
  counted: Counted,
  input: CountedInput,
): Promise<{ thousandths: number } | { sentence: string }> {
  const found = inUnitOf(counted, { ...input, measures: await measuresOf(tx, groupId) })
  if (found.kind === 'answer') {
    return found.thousandths > mostThousandths
      ? { sentence: wordsHere().fields.atMost(mostThousandths / 1000) }
      : { thousandths: found.thousandths }
  }
  return {
    sentence:
      found.reason === 'unknown measure'
        ? words().unknownMeasure(found.word)
        : words().noCommonSize(found.word, input.unit),
  }
}
