import type { FastifyInstance } from 'fastify'
import type { Kept } from '../accounts/kept.ts'
import { demoVisitor } from '../accounts/members.queries.ts'
import { placeOf } from '../accounts/place.ts'
import { mayTry } from '../accounts/sessions.queries.ts'
import { type FirstSaid, firstSaid } from '../comparison/first-said.routes.ts'
import type { Database } from '../db/database.ts'
import { linkOf } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { notFound, Problem } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { demoSlug } from './demo.queries.ts'
import { askingOf, copyDemo, makeDemo } from './making.routes.ts'

interface DemoOptions {
  readonly demo: boolean
  /** The day that the example is made for; today where none is given. */
  readonly demoDay?: IsoDate | undefined
  /** Whether its two finished reports are made too, which takes some seconds. */
  readonly demoReports?: boolean | undefined
}

interface ExampleOptions {
  readonly demo: boolean
  readonly kept: Kept
}

/** What the example says first, for whoever comes to the door; null while nobody has opened it yet. */
export async function exampleShown(database: Database, { demo, kept }: ExampleOptions): Promise<FirstSaid | null> {
  const member = demo ? await demoVisitor(database, demoSlug) : null
  if (!member) return null
  return firstSaid(askingOf(database, member, kept))
}

/** The demo group: looked at without an account where the installation allows it, copied by whoever has one. */
export function demoRoutes(
  app: FastifyInstance,
  database: Database,
  { demo, demoDay, demoReports }: DemoOptions,
): void {
  app.post('/demo', { config: { access: 'public' } }, async (request, reply) => {
    if (!demo) throw notFound()
    if (!(await mayTry(database, `demo ${placeOf(request.ip)}`, 60))) throw new Problem('too-often')
    return reply.redirect(`/g/${await makeDemo(database, demoDay, demoReports)}`, 303)
  })

  app.post('/demo/copy', { config: { access: 'person' } }, async (request, reply) => {
    if (!(await mayTry(database, `demo copy ${request.person?.id}`, 5))) throw new Problem('too-often')
    const slug = await copyDemo(database, linkOf(request.person?.id), demoDay)
    return reply.backTo(`/g/${slug}`, wordsHere().demo.copied)
  })
}
