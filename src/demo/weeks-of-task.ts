import * as written from './truth.ts'

type Truth = typeof written

export function weeksOfTask(task: keyof Truth['labour'], weeks: readonly string[]): readonly string[] {
  const [from, to] = written.weeksOfTask[task]
  return weeks.slice(from, to)
}
