// Prints, as JSON, all rows of the Parquet files of a folder, with what the files say of
// themselves.
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { asyncBufferFromFile, parquetMetadataAsync, parquetReadObjects, parquetSchema } from 'hyparquet'

const folder = process.argv[2]
const all = { of: [], columns: [], rows: [] }
for (const name of readdirSync(folder).sort()) {
  const file = await asyncBufferFromFile(join(folder, name))
  const metadata = await parquetMetadataAsync(file)
  all.of.push(Object.fromEntries(metadata.key_value_metadata.map(({ key, value }) => [key, value])))
  all.columns = parquetSchema(metadata).children.map(c => c.element.name)
  all.rows.push(...await parquetReadObjects({ file, metadata }))
}
console.log(JSON.stringify(all, (_, v) => {
  if (typeof v === 'number' && !Number.isFinite(v)) throw new Error('a number that is not finite')
  return v === undefined ? null : typeof v === 'bigint' ? Number(v) : v
}))
