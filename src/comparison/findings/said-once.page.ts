import type { Words } from '../../words/catalogue.ts'
import type { Finding } from './findings.ts'
import type { FindingShown } from './findings-told.page.ts'

/** How the ground was shared out and whence degrees of freedom come holds of several findings: the first says it. */
export function saidOnce(
  found: readonly Finding[],
  shown: readonly FindingShown[],
  words: Words['findings'],
): FindingShown[] {
  const before = new Set<string>()
  return shown.map((one, i) => {
    const ground = groundOf(found[i], words)
    const notes = one.notes.filter((note) => !(ground.includes(note) && before.has(note)))
    for (const note of ground) before.add(note)
    return { ...one, notes }
  })
}

function groundOf(finding: Finding | undefined, words: Words['findings']): readonly string[] {
  if (!finding) return []
  if ('layout' in finding) return [words.methodHow[finding.how], words.degreesOf(finding.layout, finding.df)]
  if (!('about' in finding) || finding.about.of !== 'methods') return []
  const { how, layout, df } = finding.about
  return [words.methodHow[how], words.degreesOf(layout, df)]
}
