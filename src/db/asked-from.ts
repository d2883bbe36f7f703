import { connect } from 'node:net'
import { relative } from 'node:path'
import { codeOf } from './constraint.ts'

/** The address of a socket takes about a hundred letters: the shorter of the two ways to say it. */
export function socketAddress(path: string): string {
  const fromHere = relative(process.cwd(), path)
  return fromHere.length < path.length ? fromHere : path
}

/** All that a socket sends until it ends; null where nobody listens on it. */
export function askedFrom(path: string): Promise<Buffer | null> {
  return new Promise((resolve, reject) => {
    const sent: Buffer[] = []
    const asking = connect(socketAddress(path))
    asking.on('data', (chunk: Buffer) => sent.push(chunk))
    asking.once('end', () => resolve(Buffer.concat(sent)))
    asking.once('error', (error) =>
      ['ECONNREFUSED', 'ENOENT'].includes(codeOf(error)) ? resolve(null) : reject(error),
    )
  })
}
