import { type PGlite, parse, protocol, type Results } from '@electric-sql/pglite'

const { serialize } = protocol

interface AskedAtOnce {
  readonly text: string
  readonly values: readonly unknown[]
  readonly rowMode: 'array' | 'object'
  /** Whether it stands within a transaction, which has the engine to itself already. */
  readonly inTransaction: boolean
}

/**
 * One statement in one message: to be parsed, bound, described, executed and ended. The engine's own `query` sends six,
 * each by itself, since it asks for the types of values before it writes them; here they go as text, as `pg` sends them
 * to a server, which reads them by what they are put into.
 */
export async function askAtOnce(engine: PGlite, asked: AskedAtOnce): Promise<Results> {
  const { text, values, rowMode, inTransaction } = asked
  await engine._checkReady()
  const message = Buffer.concat([
    serialize.parse({ text }),
    serialize.bind({ values: values.map(asText) }),
    serialize.describe({ type: 'P' }),
    serialize.execute({}),
    serialize.sync(),
  ])
  const ask = () =>
    engine._runExclusiveQuery(async () => {
      const answer = await engine.execProtocolStream(message, { syncToFs: !inTransaction })
      return parse.parseResults(answer, engine.parsers, { rowMode })
    })
  const [result] = await (inTransaction ? ask() : engine._runExclusiveTransaction(ask))
  if (result === undefined) throw new Error(`The engine gave no result to ${text}`)
  return result
}

/** As PostgreSQL reads a value of any type that comes as text. */
function asText(value: unknown): string | null {
  if (value === null || value === undefined) return null
  if (typeof value === 'boolean') return value ? 't' : 'f'
  if (value instanceof Date) return value.toISOString()
  if (value instanceof Uint8Array) return `\\x${Buffer.from(value).toString('hex')}`
  if (Array.isArray(value)) return `{${value.map(inArray).join(',')}}`
  return typeof value === 'object' ? JSON.stringify(value) : String(value)
}

function inArray(value: unknown): string {
  const text = asText(value)
  if (text === null) return 'NULL'
  return Array.isArray(value) ? text : `"${text.replace(/["\\]/g, '\\$&')}"`
}
