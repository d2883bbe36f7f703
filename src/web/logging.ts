import { sent } from '../lookups/unsaid.ts'
/** What a log may hold of an error: what kind it is and where, and nothing of what was written or asked for. */
export function loggable(error: unknown): { type: string; message: string; stack: string; chain: object[] } {
  const chain: object[] = []
  for (let at: unknown = error; at instanceof Error && chain.length < 5; at = at.cause) chain.push(told(at))
  return { type: 'Error', message: chain.length > 0 ? '' : 'not an error', stack: '', chain }
}

/**
 * drizzle puts all values of a failed query into its message, and PostgreSQL those of the row that it refuses into the
 * detail, both of which may be an address or a hash. Of errors of the database the code says what it was; a message of
 * others is the program's own.
 */
function told(error: Error): object {
  const {
    code,
    constraint,
    table,
    query,
  }: Error & Partial<Record<'code' | 'constraint' | 'table' | 'query', unknown>> = error
  const ofDatabase = query !== undefined || (typeof code === 'string' && /^[0-9A-Z]{5}$/.test(code))
  const frames = sent(error.stack)
    .split('\n')
    .filter((line) => /^\s+at /.test(line))
  return {
    name: error.name,
    ...(ofDatabase ? {} : { message: error.message }),
    code,
    constraint,
    table,
    query,
    at: frames.slice(0, 12).map((line) => line.trim()),
  }
}
