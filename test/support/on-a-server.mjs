// What opens a database once more, on the PostgreSQL server that TEST_DATABASE_URL names.
import { spawnSync } from 'node:child_process'

const url = process.env.TEST_DATABASE_URL ?? 'postgres://root@127.0.0.1:5432/postgres'
const run = spawnSync('npx', ['vitest', 'run', ...process.argv.slice(2)], {
  stdio: 'inherit',
  env: { ...process.env, TEST_DATABASE_URL: url },
})
process.exit(run.status ?? 1)
