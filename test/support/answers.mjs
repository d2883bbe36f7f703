// Exits 0 where a PostgreSQL server answers at the address given.
import pg from 'pg'

const client = new pg.Client({ connectionString: process.argv[2], connectionTimeoutMillis: 3000 })
await client.connect().catch(() => process.exit(1))
await client.query('select 1')
await client.end()
