import type { FastifyInstance } from 'fastify'
import { z } from 'zod'
import { mayOpen } from '../accounts/role.ts'
import { constraintOf } from '../db/constraint.ts'
import { text, wholeNumber } from '../web/fields.ts'
import { readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { tablesOfRecorders, undoableTables } from '../web/undoable.ts'
import { wordsHere } from '../web/words-here.ts'
import { closedSince, netChanges, savedChanges, takeBack } from './undo.queries.ts'

const number = () => wholeNumber({ least: 1, most: Number.MAX_SAFE_INTEGER })
const undoForm = z.object({ first: number(), last: number(), back: text({ most: 300 }) })

/** Takes back one save of one's own, whatever it wrote: the history knows what stood before. */
export function undoRoutes(app: FastifyInstance): void {
  app.post('/g/:group/undo', { config: { access: 'recorder' } }, async (request, reply) => {
    const form = readForm(undoForm, request.body)
    const { group, personId, role } = request.member
    if (form.kind === 'refused' || !leadsInto(`/g/${group.slug}`, form.value.back)) throw notFound()
    const { first, last, back } = form.value
    const notice = await undone(() =>
      request.write(async (tx) => {
        const rows = await savedChanges(tx, group.id, personId, first, last)
        const tables = new Set(rows.map((row) => row.tableName))
        if (rows.length === 0 || [...tables].some((name) => !undoableTables.has(name))) throw notFound()
        const needsKeeper = [...tables].some((name) => !tablesOfRecorders.has(name))
        if (needsKeeper && !mayOpen(role, 'keeper')) throw new Problem('keepers-only')
        if (await closedSince(tx, group.id, rows)) throw new Problem('changed-meanwhile')
        for (const change of netChanges(rows)) {
          if (!(await takeBack(tx, group.id, change))) throw new Problem('changed-meanwhile')
        }
      }, wordsHere().diary.undone),
    )
    return reply.backTo(back, notice)
  })
}

/** A page of the group, in the letters that an address is written in. */
const leadsInto = (base: string, back: string) =>
  /^[\x21-\x7e]+$/.test(back) &&
  [base, `${base}/`, `${base}?`, `${base}#`].some((start) => (start === base ? back === base : back.startsWith(start)))

/** What rests on something by now cannot be taken back: the database says so by a constraint. */
async function undone(work: () => Promise<void>): Promise<string> {
  try {
    await work()
    return wordsHere().shell.undone
  } catch (error) {
    if (!constraintOf(error)) throw error
    return wordsHere().correcting.stillUsed
  }
}
