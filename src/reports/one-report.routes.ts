import type { FastifyRequest } from 'fastify'
import { keptContentsForm, keptRowsForm } from '../comparison/kept-contents.form.ts'
import { keptDecidedForm } from '../decisions/kept-decided.form.ts'
import { Problem } from '../web/problem.ts'
import { serviceVersion } from '../web/version.ts'
import { figuresIn, figuresOfToday } from './figures-of-today.routes.ts'
import { namesAgreed } from './names.queries.ts'
import { picturesIn } from './pictures.ts'
import { type Contents, reportPage, type Shown } from './report.page.ts'
import { checksumOf, type Report } from './reports.queries.ts'
import type { RowTables } from './row-tables.ts'
import { wantsDecided } from './sections.ts'

/** A finished report with its figures: as they were frozen or, of a live one, as they are now. */
export interface ReportStanding extends Omit<Report, 'contents' | 'rows'> {
  readonly contents: Contents
  readonly rows: RowTables | null
}

export async function standing(request: FastifyRequest, report: Report): Promise<ReportStanding> {
  if (report.state !== 'live') {
    return { ...report, ...keptIn(report) }
  }
  const wanted = {
    rows: report.rowsAgreed === 1,
    pictures: picturesIn(report.pictures),
    decided: wantsDecided(report.sections),
  }
  const today = await figuresOfToday(request, report.season, wanted)
  return { ...report, ...today, serviceVersion, checksum: checksumOf(figuresIn(today.contents)) }
}

/** A frozen report may have come in with a package that was changed by hand. */
function keptIn({ contents, rows }: Report): Pick<ReportStanding, 'contents' | 'rows'> {
  const isDecided = keptDecidedForm.safeParse(contents).success
  if (!keptContentsForm.safeParse(contents).success || !keptRowsForm.safeParse(rows).success || !isDecided) {
    throw new Problem('unreadable-report')
  }
  return { contents: contents as Contents, rows: rows as RowTables | null }
}

type Unfinished = Omit<Shown, 'editions' | 'addressOf' | 'names' | 'now'>

/** The page of a report, with the names of those alone who agreed. */
export async function pageOf(
  request: FastifyRequest,
  report: Unfinished,
  around: Pick<Shown, 'editions' | 'addressOf'> & Partial<Pick<Shown, 'names'>>,
) {
  const names = around.names ?? (await request.read((tx) => namesAgreed(tx, request.member.group.id)))
  try {
    return reportPage({ ...report, ...around, names, now: new Date() })
  } catch (error) {
    if (report.state !== 'frozen') throw error
    request.log.error({ err: error }, 'a frozen report cannot be shown')
    throw new Problem('unreadable-report')
  }
}
