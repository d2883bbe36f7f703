import { fieldsOf } from '../web/query-of.ts'

/** What this person chose in the form that was saved just now: it stands in the address, and nowhere longer. */
const chosenBefore = ['place', 'task', 'workedOn', 'harvestedOn', 'lostOn'] as const

export function leftWith(body: unknown, form: string): string {
  const sent = fieldsOf(body)
  const kept = chosenBefore.flatMap((name): [string, string][] =>
    typeof sent[name] === 'string' ? [[name, sent[name]]] : [],
  )
  return new URLSearchParams([['left', form], ...kept]).toString()
}

export function chosenIn(query: unknown, days: readonly string[]) {
  const asked = fieldsOf(query)
  const text = (name: string) => (typeof asked[name] === 'string' ? asked[name].slice(0, 60) : '')
  const day = (name: string) => (days.includes(text(name)) ? text(name) : '')
  return {
    place: text('place'),
    task: text('task'),
    plantingId: text('planting'),
    workedOn: day('workedOn'),
    harvestedOn: day('harvestedOn'),
    lostOn: day('lostOn'),
  }
}

/** Where the page was left: it opens there again, with the same form open. */
export const sectionLeft: Record<string, string> = {
  hours: 'hours',
  'shared-hours': 'hours',
  harvests: 'weights',
  'shared-harvests': 'weights',
  labelled: 'weights',
  'second-readings': 'weights',
  losses: 'losses',
  closings: 'open-and-closed',
  reopenings: 'open-and-closed',
  removals: 'open-and-closed',
  containers: 'open-and-closed',
}
