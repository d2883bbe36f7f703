import { Kept } from '../accounts/kept.ts'
import type { MemberOfGroup } from '../accounts/members.queries.ts'
import type { Asking } from '../comparison/compare.routes.ts'
import type { Database, Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asMember } from '../db/transaction.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { figuresIn, figuresOfToday } from '../reports/figures-of-today.routes.ts'
import { freezeDraft, saveDraft } from '../reports/reports.queries.ts'
import { sectionKeys } from '../reports/sections.ts'
import { serviceVersion } from '../web/version.ts'
import { wordsHere } from '../web/words-here.ts'
import { type DemoMade, demoSlug, demoStands, todayThere, writeDemo } from './demo.queries.ts'

/** The demo that everyone may look at; made when it is first asked for, once, however many ask at a time. */
export async function makeDemo(database: Database, day: IsoDate = todayThere(), withReports = true) {
  const wanted = { slug: demoSlug, isDemo: 1, personId: null, day } as const
  if (!(await demoStands(database))) await make(database, wanted, withReports)
  return demoSlug
}

/** A copy of one's own, to play with, and to write reports on: its slug. */
export async function copyDemo(database: Database, personId: string, day: IsoDate = todayThere()): Promise<string> {
  const slug = `${demoSlug}-${newId().slice(-8)}`
  await make(database, { slug, isDemo: 0, personId, day })
  return slug
}

const pictures = ['yields', 'seasons', 'crops', 'labour'] as const

type Wanted = Omit<Parameters<typeof writeDemo>[1], 'report'>

const make = (database: Database, wanted: Wanted, withReports = false) =>
  writeDemo(database, {
    ...wanted,
    report: (made) => (withReports ? finishReports(database, made) : Promise.resolve()),
  })

/** Whoever asks without a request. */
export function askingOf(database: Database, member: MemberOfGroup, kept: Kept): Asking {
  const who = { personId: member.personId, groupId: member.group.id, readOnly: true }
  return {
    member,
    query: {},
    kept,
    read: (work) => asMember(database, who, work),
    readAtOnce: (work) => asMember(database, { ...who, snapshot: true }, work),
  }
}

/** Two finished reports: one of the last season that is over, one of all of them. */
async function finishReports(database: Database, { group, personId, seasonIds }: DemoMade): Promise<void> {
  const member: MemberOfGroup = { personId, role: 'keeper', group }
  const who = { personId, groupId: group.id }
  const asking = askingOf(database, member, new Kept(0))
  const write = (work: (tx: Tx) => Promise<void>) => asMember(database, { ...who, reason: 'demo' }, work)
  const author = { groupId: group.id, createdBy: personId }
  for (const [season, said] of [
    [seasonIds.at(-1) ?? 'all', wordsHere().demo.reports.one],
    ['all', wordsHere().demo.reports.all],
  ] as const) {
    const id = newId()
    const { contents, rows, dataCutOff } = await figuresOfToday(asking, season, { rows: true, pictures, decided: true })
    const finished = { contents, rows, dataCutOff, figures: figuresIn(contents), serviceVersion }
    const chosen = { season, sections: sectionKeys, pictures, keeps: 'frozen', rowsAgreed: 'yes' } as const
    await write(async (tx) => {
      await saveDraft(tx, author, { id, version: null, after: null, ...said, ...chosen })
      await freezeDraft(tx, group.id, id, finished)
    })
  }
}
