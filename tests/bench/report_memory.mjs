// Loaded with --import: tells on file descriptor 3, when the process ends, how much memory it took at most.
import { writeSync } from 'node:fs';

process.on('exit', () => writeSync(3, String(process.resourceUsage().maxRSS)));
