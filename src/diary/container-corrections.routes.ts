import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { markRemoved } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { weightAsTyped } from '../quantities/as-typed.ts'
import { formatDay, formatKilograms } from '../quantities/formatting.ts'
import { weekOf } from '../quantities/iso-week.ts'
import { type Correctable, type Correction, correcting } from '../web/correcting.ts'
import { readForm, type Typed } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { reckonedAnew } from './container-rule.ts'
import { containerHeld, containerWeighed, saveContainerAnew, type WeighedIn } from './containers.queries.ts'
import { containers } from './diary.table.ts'
import { containerCorrection } from './week.form.ts'
import { today } from './writing.routes.ts'

const words = () => wordsHere().correcting.container
const f = () => wordsHere().diary.fields
type Container = NonNullable<Awaited<ReturnType<typeof containerWeighed>>>
type Given = z.output<ReturnType<typeof containerCorrection>>

const unitOf = (request: FastifyRequest) => request.member.group.weightUnit

const container: Correctable<Container, Given> = {
  kind: 'containers',
  access: 'recorder',
  find: containerWeighed,
  title: (row) => words().title(row.name),
  fields: (row, request) => [
    { name: 'name', label: f().containerName, value: row.name },
    { name: 'tareG', label: f().tare, hint: f().weightHint, value: weightAsTyped(row.tareG, unitOf(request)) },
    ...(row.weighed.length === 0
      ? []
      : [
          { name: 'since', label: words().since, hint: words().sinceHint, type: 'date', value: '' },
          {
            name: 'surely',
            label: words().surely,
            value: '',
            options: [
              { value: '', label: words().notYet },
              { value: 'yes', label: words().looked },
            ],
          },
        ]),
  ],
  form: (request) => containerCorrection(unitOf(request)),
  constraints: {
    containers_name_is_taken: {
      get name() {
        return wordsHere().gardens.nameTaken
      },
    },
  },
  correct: corrected,
  remove: async (tx, seen, reason) => {
    const row = await containerHeld(tx, seen.groupId, seen.id)
    return row?.weighed.length === 0 && markRemoved(tx, containers, seen, reason)
  },
  refuse: async (_tx, row) => (row.weighed.length > 0 ? { reason: wordsHere().correcting.stillUsed } : undefined),
  rests: weighedWithIt,
  back: (_row, request) => `/g/${request.member.group.slug}/weeks/${weekOf(today(request))}/ledger#open-and-closed`,
}

async function corrected(tx: Tx, { seen, given, request }: Correction<Container, Given>) {
  const row = await containerHeld(tx, seen.groupId, seen.id)
  if (!row) return false
  const { changed, tooLight } = reckonedAnew(row.weighed, { tareG: given.tareG, since: given.since })
  const { locale } = request.member.group
  if (tooLight.length > 0) {
    return { tareG: words().tooLight(tooLight.map((one) => formatDay(one.harvestedOn, locale)).join(', ')) }
  }
  if (changed.length > 0 && given.surely !== 'yes') return { surely: words().changes(changed.length) }
  return saveContainerAnew(tx, seen, { name: given.name, tareG: given.tareG, changed })
}

/** All that was weighed with it, and where another empty weight was typed, what that makes of each. */
function weighedWithIt(row: Container, typed: Typed | undefined, request: FastifyRequest) {
  if (row.weighed.length === 0) return undefined
  const { locale } = request.member.group
  const form = readForm(containerCorrection(unitOf(request)), typed ?? {})
  const anew = form.kind === 'answer' ? reckonedAnew(row.weighed, form.value) : undefined
  const then = new Map(anew?.changed.map((one) => [one.row.id, one.marketableG + one.unmarketableG] as const))
  const left = new Set(anew?.left.map((one) => one.id))
  const columns = words().columns
  return {
    caption: words().caption,
    head: [
      { name: columns.what },
      { name: columns.day },
      ...[columns.scale, columns.now, columns.anew].map((name) => ({ name, figure: true })),
    ],
    rows: row.weighed.map((one) => {
      const net = one.marketableG + one.unmarketableG
      return [
        left.has(one.id) ? { text: called(one), note: words().closed } : called(one),
        formatDay(one.harvestedOn, locale),
        formatKilograms(one.grossG, locale),
        formatKilograms(net, locale),
        formatKilograms(then.get(one.id) ?? net, locale),
      ]
    }),
  }
}

const called = (one: WeighedIn): string =>
  one.label === null ? (one.planting ?? words().shared) : wordsHere().weighing.labelled(one.label)

export function containerCorrections(app: FastifyInstance): void {
  correcting(app, container)
}
