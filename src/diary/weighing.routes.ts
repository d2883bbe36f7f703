import type { FastifyInstance } from 'fastify'
import type { z } from 'zod'
import { mayOpen } from '../accounts/role.ts'
import { amend, ofTable } from '../db/amend.ts'
import { weightAsTyped } from '../quantities/as-typed.ts'
import { daysOf } from '../quantities/iso-week.ts'
import { plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, correcting } from '../web/correcting.ts'
import { saidOf } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { underLabel } from './crate-label.ts'
import { secondReadings } from './diary.table.ts'
import { gardensLabelled, labelsOf, sealedIn } from './sealed.queries.ts'
import { saveSecondReading, secondReadingsOf, weighedByThem } from './second-readings.queries.ts'
import { secondWeeksOf } from './second-weeks.ts'
import { type labelledForm, secondReadingCorrection, type secondReadingForm } from './weighing.form.ts'
import { enterHarvest } from './weights.routes.ts'
import { type Errors, today, type Writing } from './writing.routes.ts'

const words = catalogue.weighing

/** A weight for a label: the planting behind it is looked up here, and no sentence that comes back names it. */
export async function enterLabelled(
  at: Writing,
  { label, ...given }: z.output<ReturnType<typeof labelledForm>>,
): Promise<Errors | void> {
  const labels = await labelsOf(at.tx, at.author.groupId, at.week)
  const found = labels.find((one) => one.label === label.toUpperCase())
  if (!found) return { label: words.noSuchLabel }
  if (!found.sealed) return { label: catalogue.diary.isClosed }
  const errors = await enterHarvest(at, { ...given, plantingId: found.plantingId })
  if (!errors) return
  const { plantingId, surely, ...rest } = errors
  return {
    ...rest,
    ...(plantingId ? { label: plantingId } : {}),
    ...(surely ? { surely: surely === catalogue.diary.sameAsk ? surely : words.muchAsk } : {}),
  }
}

/** A planting that has a sealed label is weighed by it, or the label would tell whoever weighs which planting it is. */
export async function refusedAsSealed(
  { tx, author, week }: Pick<Writing, 'tx' | 'author' | 'week'>,
  plantingIds: readonly string[],
): Promise<string | undefined> {
  const sealed = await sealedIn(tx, author.groupId, week)
  return plantingIds.some((id) => sealed.has(id)) ? words.byItsLabel : undefined
}

/** Closing the weights of a garden opens its labels. Whoever weighs could close, read and reopen: so a keeper does both. */
export async function keeperOpensLabels(
  at: Writing,
  { gardenId, what }: { gardenId: string; what: string },
): Promise<string | undefined> {
  if (what !== 'weights' || mayOpen(at.request.member.role, 'keeper')) return undefined
  const labelled = await gardensLabelled(at.tx, at.author.groupId, at.week)
  return labelled.has(gardenId) ? words.keepersOpen : undefined
}

/** What a second person wrote down of a planting over the whole week, in the weeks that were drawn for it. */
export async function enterSecondReading(
  at: Writing,
  { id, read, weighed }: z.output<ReturnType<typeof secondReadingForm>>,
): Promise<Errors | void> {
  const { groupId, createdBy } = at.author
  const plantingId = await plantingRead(at, read)
  const sealed = read === plantingId ? await refusedAsSealed(at, [read]) : undefined
  if (sealed) return { read: sealed }
  const planting = (await plantingsOf(at.tx, groupId)).find((one) => one.id === plantingId)
  if (!planting) return { read: catalogue.fields.notChosen }
  const season = (await seasonsOf(at.tx, groupId)).find((one) => one.id === planting.seasonId)
  if (!season || !secondWeeksOf(season).includes(at.week)) return { read: words.notDrawn }
  if ((daysOf(at.week)[0] ?? '') > today(at.request)) return { read: catalogue.diary.ahead }
  if (await weighedByThem(at.tx, groupId, at.week, planting.id, createdBy)) return { read: words.ownWeighing }
  const there = await secondReadingsOf(at.tx, groupId, at.week)
  if (there.some((one) => one.plantingId === planting.id && one.id !== id)) return { read: words.readAlready }
  const reading = { id, isoWeek: at.week, plantingId: planting.id, weighedG: weighed }
  return saidOf(await saveSecondReading(at.tx, at.author, reading))
}

/** The planting of a choice: its id, or the label that hides it. */
async function plantingRead(at: Writing, read: string): Promise<string | undefined> {
  if (!read.startsWith(underLabel)) return read
  const labels = await labelsOf(at.tx, at.author.groupId, at.week)
  return labels.find((one) => underLabel + one.label === read)?.plantingId
}

const secondReading: Correctable<typeof secondReadings.$inferSelect, { weighed: number }> = {
  ...ofTable(secondReadings),
  kind: 'second-readings',
  access: 'recorder',
  title: (row) => words.secondOf(row.isoWeek),
  fields: (row, request) => [
    {
      ...{ name: 'weighed', label: words.weighed, hint: catalogue.diary.fields.weightHint },
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
