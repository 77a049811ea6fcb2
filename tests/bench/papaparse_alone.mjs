// The baseline: PapaParse reads the file, and nothing is done with its rows.
import { createReadStream } from 'node:fs';
import Papa from 'papaparse';

let rows = 0;
Papa.parse(createReadStream(process.argv[2], { highWaterMark: 65536, encoding: 'utf8' }), {
  delimiter: ',',
  newline: '\n',
  chunk: ({ data }) => {
    rows += data.length;
  },
  complete: () => process.stdout.write(`${rows}\n`),
});
