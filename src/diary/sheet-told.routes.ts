import type { FastifyReply, FastifyRequest } from 'fastify'
import { sent } from '../lookups/unsaid.ts'
import { formatKilograms } from '../quantities/formatting.ts'
import type { Words } from '../words/catalogue.ts'
import type { SheetSaved } from './sheet-saving.routes.ts'
import { clock } from './sheet-writing.page.ts'
import type { WeekSheet } from './week-sheet.form.ts'

export const wantsFigures = (request: FastifyRequest) => request.headers.accept === 'application/json'

interface Told {
  readonly told: string
  /** Where to go on from here. */
  readonly onward: string
}

/** For what waited on a device: which cells are stored, and what is wrong with the others. */
export function answerInFigures(reply: FastifyReply, { wrong, stored }: SheetSaved, { told, onward }: Told) {
  if (wrong.size === 0) reply.leaveNotice(onward, told)
  const sentences = Object.fromEntries([...wrong].map(([cell, { sentence }]) => [cell, sentence]))
  return reply.status(wrong.size > 0 ? 422 : 200).send({ stored: [...stored], wrong: sentences, told, onward })
}

export const isBlank = (saved: SheetSaved) =>
  saved.stored.size + saved.closed.length + saved.reopened + saved.loads.count + saved.cleared === 0 &&
  saved.wrong.size === 0

/** The garden that comes next, and the day, stand in the address: this sitting's choice and nobody else's. */
export function asLeft(sheet: WeekSheet): string {
  const next = /^next:([0-9a-f-]{36})$/.exec(sent(sheet.to))?.[1]
  const kept: [string, string][] = []
  if (next) kept.push(['garden', next])
  if (sheet.day) kept.push(['day', sheet.day])
  return new URLSearchParams(kept).toString()
}

/** "Saved: Lower Terrace 3 weights, 4.5 kg, 2:10; several gardens 1:30." */
export function sheetSavedTold(saved: SheetSaved, words: Words, request: FastifyRequest): string {
  const { locale } = request.member.group
  const w = words.week
  const loads = { ...saved.loads, said: w.loadsSaved(saved.loads.count) }
  const parts = [...saved.gardens].map(([gardenId, one]) => {
    const said = [
      ...(one.weights > 0 ? [w.weightsSaved(one.weights, formatKilograms(one.grams, locale))] : []),
      ...(one.minutes > 0 ? [one.divided ? w.dividedSaved(clock(one.minutes)) : clock(one.minutes)] : []),
      ...(one.losses > 0 ? [w.lossesSaved(one.losses)] : []),
    ]
    return { gardenId, said: said.join(', ') }
  })
  const others = [
    ...(saved.cleared > 0 ? [w.clearedNow(saved.cleared)] : []),
    ...(loads.count > 0 ? [loads.divided ? w.dividedSaved(loads.said) : loads.said] : []),
    ...(saved.closed.length > 0 ? [w.closedNow(saved.closed.length)] : []),
    ...(saved.reopened > 0 ? [w.openedNow] : []),
  ]
  const named = parts.map(({ gardenId, said }) => w.savedOf(saved.names.get(gardenId) ?? w.severalGardens, said))
  const all = [...named, ...others]
  return all.length === 0 ? '' : w.savedAll(all.join('; '))
}
