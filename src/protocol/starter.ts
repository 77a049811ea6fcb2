import protocol from './starter/protocol.yaml';
import readme from './starter/README.md';
import roster from './starter/roster.csv';
import screening from './starter/screening.yaml';
import hip from './starter/templates/hip.csv';
import intake from './starter/templates/intake.csv';
import knee from './starter/templates/knee.csv';
import landing from './starter/templates/landing.csv';
import reach from './starter/templates/reach.csv';
import shoulder from './starter/templates/shoulder.csv';

/** The protocol that a new folder starts with, as YAML text. */
export const STARTER_PROTOCOL: string = protocol;

/** A file of a new screening folder. */
export interface StarterFile {
  /** from the folder on, with forward slashes */
  readonly path: string;
  readonly text: string;
}

/** Blank station sheets by the name of their station: one line of headings each. */
export const TEMPLATES: Readonly<Record<string, string>> = { intake, hip, knee, shoulder, landing, reach };

/** The written files of a new screening folder, in the order in which they are told; JSON Schemas come on top. */
export function starterFiles(): readonly StarterFile[] {
  return [
    { path: 'README.md', text: readme },
    { path: 'screening.yaml', text: screening },
    { path: 'protocol.yaml', text: protocol },
    { path: 'roster.csv', text: roster },
    ...Object.entries(TEMPLATES).map(([station, text]) => ({ path: `templates/${station}.csv`, text })),
  ];
}
