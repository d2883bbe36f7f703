import { Readable } from 'node:stream'
import { expect, it } from 'vitest'
import { exactRecords } from '../../src/web/csv-reader.ts'

it.each([1, 2, 3, 5, 7, 11, 1000])(
  'empty text and nothing are told apart however the bytes arrive: %i at once',
  async (size) => {
    const text = 'a,b,c\r\n1,"{""agreed"": 1}",\r\n2,"",""\r\n"",x,"{""a"",""b""}"\r\n3,,\r\n'
    const pieces = Array.from({ length: Math.ceil(text.length / size) }, (_, at) =>
      Buffer.from(text.slice(at * size, (at + 1) * size)),
    )
    const read: (readonly (string | null)[])[] = []
    for await (const record of exactRecords(Readable.from(pieces), () => undefined)) read.push(record)
    expect(read).toEqual([
      ['a', 'b', 'c'],
      ['1', '{"agreed": 1}', null],
      ['2', '', ''],
      ['', 'x', '{"a","b"}'],
      ['3', null, null],
    ])
  },
)
