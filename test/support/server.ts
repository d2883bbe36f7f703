import pg from 'pg'

/** One statement outside any database of the tests, and its rows. */
export async function onServer<T extends pg.QueryResultRow>(server: string, statement: string): Promise<T[]> {
  const client = new pg.Client({ connectionString: server })
  await client.connect()
  try {
    return (await client.query<T>(statement)).rows
  } finally {
    await client.end()
  }
}
