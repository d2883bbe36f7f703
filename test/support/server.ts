import pg from 'pg'

/** One statement outside any database of the tests. */
export async function onServer(server: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: server })
  await client.connect()
  try {
    await client.query(statement)
  } finally {
    await client.end()
  }
}
