import { codeOf } from './constraint.ts'

/**
 * Whether an error says that the database cannot be reached just now, and nothing of what was asked of it. Codes of
 * PostgreSQL (its manual, appendix A): class 08, a connection; 57P01 to 57P03, shut down, crashed, not up yet; 53300,
 * too many connections.
 */
export function isAway(error: unknown): boolean {
  const code = codeOf(error)
  if (code.startsWith('08') || away.has(code)) return true
  for (let at: unknown = error; at instanceof Error; at = at.cause) {
    const { message } = at
    if (saidByDriver.some((beginning) => message.startsWith(beginning))) return true
  }
  return false
}

const away = new Set([
  '57P01',
  '57P02',
  '57P03',
  '53300',
  'ECONNREFUSED',
  'ECONNRESET',
  'EPIPE',
  'ETIMEDOUT',
  'EHOSTUNREACH',
  'ENETUNREACH',
  'ENOTFOUND',
  'EAI_AGAIN',
])

/** The driver gives these no code. */
const saidByDriver = [
  'Connection terminated',
  'Query read timeout',
  'timeout expired',
  'timeout exceeded when trying to connect',
  'Client has encountered a connection error',
]
