import type { FastifyRequest } from 'fastify'
import { changesCounted } from '../accounts/saved.queries.ts'
import type { Database } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { dayIn, type IsoDate } from '../quantities/dates.ts'
import { notFound } from '../web/problem.ts'
import { type OpenLink, openLink } from './links.queries.ts'
import { namesAgreed } from './names.queries.ts'
import { type ReportStanding, standing } from './one-report.routes.ts'
import type { Edition } from './report.page.ts'
import { editionsOf, reportOf } from './reports.queries.ts'

export type Asked = readonly [token: string, edition: string]

/** The link of a token, the finished editions it leads to, and the names that may stand on them. */
export async function behindLink(database: Database, [token, edition]: Asked) {
  const link = await openLink(database, token)
  if (!link) return undefined
  const groupId = link.group.id
  return asMember(database, { personId: null, groupId, readOnly: true }, async (tx) => {
    const editions = await editionsOf(tx, groupId, link.reportId)
    const finished = editions.filter((one) => one.state !== 'draft')
    const wanted = edition === '' ? finished.at(-1) : finished.find((one) => String(one.edition) === edition)
    const changes = wanted?.state === 'live' ? await changesCounted(tx, groupId) : null
    const names = await namesAgreed(tx, groupId)
    const today = dayIn(link.group.timeZone, new Date())
    return { link, finished, wanted, names, today, madeOf: madeOf({ link, finished, wanted, changes, names, today }) }
  })
}

interface Made {
  readonly link: OpenLink
  readonly finished: readonly { readonly id: string; readonly version: number; readonly state: string }[]
  readonly wanted: { readonly id: string } | undefined
  readonly changes: number | null
  readonly names: readonly string[]
  readonly today: IsoDate
}

/** All that a rendered page is made of, so that one kept under the same name is the same page. */
function madeOf({ link, finished, wanted, changes, names, today }: Made): string {
  const { name, locale } = link.group
  const editions = finished.map(({ id, version, state }) => [id, version, state])
  return JSON.stringify([
    link.group.id,
    wanted?.id,
    editions,
    changes === null ? null : [changes, today],
    names,
    name,
    locale,
  ])
}

export type Behind = NonNullable<Awaited<ReturnType<typeof behindLink>>>

/**
 * The edition that the address asks for, else the latest finished one; from here the request reads that group as a
 * guest.
 */
export function editionIn(request: FastifyRequest, { link, wanted }: Behind): Edition {
  if (!wanted) throw notFound()
  request.member = { personId: null, role: 'reader', group: link.group, visiting: true }
  return wanted
}

const mostKept = 8

/**
 * The figures of what was opened last: a live report is computed once for each change of its record, however often it
 * is read.
 */
export function keptFigures(): (request: FastifyRequest, behind: Behind) => Promise<ReportStanding> {
  const kept = new Map<string, Promise<ReportStanding>>()
  return (request, behind) => {
    const { id } = editionIn(request, behind)
    const known = kept.get(behind.madeOf)
    if (known) return known
    const made = request
      .readAtOnce((tx) => reportOf(tx, request.member.group.id, id))
      .then((report) => {
        if (!report) throw notFound()
        return standing(request, report)
      })
    kept.set(behind.madeOf, made)
    made.catch(() => kept.delete(behind.madeOf))
    for (const oldest of kept.keys()) if (kept.size > mostKept) kept.delete(oldest)
    return made
  }
}
