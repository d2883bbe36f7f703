import { createHash } from 'node:crypto'
import type { Readable } from 'node:stream'
import { parse } from 'csv-parse'

const longestRecord = 32 * 1024 * 1024

/**
 * The records of a file that `exactLine` wrote, heading first: nothing between the commas is null, two quote marks are an
 * empty text. Tells the SHA-256 of what was read at its end; throws where the file is no such file.
 */
export async function* exactRecords(
  bytes: Readable,
  tell: (sha256: string) => void,
): AsyncGenerator<readonly (string | null)[]> {
  const hash = createHash('sha256')
  bytes.on('data', (chunk: Buffer) => hash.update(chunk))
  const parser = parse({
    record_delimiter: '\r\n',
    max_record_size: longestRecord,
    cast: (value, { quoting }) => (value === '' && !quoting ? null : value),
  })
  bytes.on('error', (error) => parser.destroy(error))
  bytes.pipe(parser)
  for await (const record of parser) yield record as (string | null)[]
  tell(hash.digest('hex'))
}
