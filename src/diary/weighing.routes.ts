import type { FastifyInstance } from 'fastify'
import type { z } from 'zod'
import { amend, ofTable } from '../db/amend.ts'
import { linked } from '../lookups/unsaid.ts'
import { weightAsTyped } from '../quantities/as-typed.ts'
import { mondayOf } from '../quantities/iso-week.ts'
import { type Correctable, correcting } from '../web/correcting.ts'
import { saidOf } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { underLabel } from './crate-label.ts'
import { secondReadings } from './diary.table.ts'
import { labelKey, sealedKey } from './known.ts'
import { saveSecondReading, secondReadingsOf, weighedByThem } from './second-readings.queries.ts'
import { secondWeeksOf } from './second-weeks.ts'
import { secondReadingCorrection, type secondReadingForm } from './weighing.form.ts'
import type { Errors, Writing } from './writing.routes.ts'

const words = () => wordsHere().weighing

/** What a second person wrote down of a planting over the whole week, in the weeks that were drawn for it. */
export async function enterSecondReading(
  at: Writing,
  { id, read, weighed }: z.output<ReturnType<typeof secondReadingForm>>,
): Promise<Errors | void> {
  const { groupId, createdBy } = at.author
  const plantingId = plantingRead(at, read)
  if (read === plantingId && at.known.sealed.has(sealedKey(read, at.week))) return { read: words().byItsLabel }
  const planting = linked(at.known.plantings, plantingId)
  if (!planting) return { read: wordsHere().fields.notChosen }
  const season = at.known.seasons.find((one) => one.id === planting.seasonId)
  if (!season || !secondWeeksOf(season).includes(at.week)) return { read: words().notDrawn }
  if (mondayOf(at.week) > at.known.today) return { read: wordsHere().diary.ahead }
  if (await weighedByThem(at.tx, groupId, at.week, planting.id, createdBy)) return { read: words().ownWeighing }
  const there = await secondReadingsOf(at.tx, groupId, at.week)
  if (there.some((one) => one.plantingId === planting.id && one.id !== id)) return { read: words().readAlready }
  const reading = { id, isoWeek: at.week, plantingId: planting.id, weighedG: weighed }
  return saidOf(await saveSecondReading(at.tx, at.author, reading))
}

/** The planting of a choice: its id, or the label that hides it. */
function plantingRead(at: Writing, read: string): string | undefined {
  if (!read.startsWith(underLabel)) return read
  return at.known.labels.get(labelKey(read.slice(underLabel.length), at.week))?.plantingId
}

const secondReading: Correctable<typeof secondReadings.$inferSelect, { weighed: number }> = {
  ...ofTable(secondReadings),
  kind: 'second-readings',
  access: 'recorder',
  title: (row) => words().secondOf(row.isoWeek),
  fields: (row, request) => [
    {
      name: 'weighed',
      label: words().weighed,
      hint: wordsHere().diary.fields.weightHint,
      value: weightAsTyped(row.weighedG, request.member.group.weightUnit),
    },
  ],
  form: (request) => secondReadingCorrection(request.member.group.weightUnit),
  save: (tx, seen, { weighed }) => amend(tx, secondReadings, seen, { weighedG: weighed }),
  back: (row, request) => `/g/${request.member.group.slug}/weeks/${row.isoWeek}#weights`,
}

export function weighingCorrections(app: FastifyInstance): void {
  correcting(app, secondReading)
}
