import { newId } from '../../src/db/new-id.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import type { Answer } from '../support/app.ts'
import { plantingOf, type Trial } from '../support/trial.ts'

/** The form as a keeper sends it, finished and frozen unless told otherwise; gives the report's id and the answer. */
export async function writeReport(
  trial: Trial,
  given: Readonly<Record<string, unknown>> = {},
): Promise<{ id: string; answer: Answer }> {
  const id = String(given.id ?? newId())
  const usual = { title: 'Our first season', words: 'A wet spring.', season: trial.season, sections: [...sectionKeys] }
  const fields = { ...usual, keeps: 'frozen', step: 'finish', ...given, id }
  return { id, answer: await trial.keeper.post(`${trial.base}/reports`, fields) }
}

export async function shareReport(trial: Trial, id: string, given: Readonly<Record<string, string>> = {}) {
  const page = await trial.keeper.post(`${trial.base}/reports/${id}/links`, { endsOn: '', passphrase: '', ...given })
  return /\/r\/[\w-]+/.exec(page.text)?.[0] ?? ''
}

export const weigh = (trial: Trial, marketable: string) =>
  trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, {
    ...{ id: newId(), plantingId: plantingOf(trial, 'carrot', 'Lower'), harvestedOn: '2026-01-28', marketable },
  })
