import { topicsOf } from './topics_of.ts';

const AUDIENCES = topicsOf(
  'audience',
  {
    coach: {
      title: 'coaches: who may train, programmes and dates',
      definition:
        'Of the plan a coach sees who does what, from when to when, and who is held; whoever is to see medical staff is held too. Of coverage a coach sees who still lacks a test, without saying which. Tables of readings, findings and shares are refused.',
      caution: 'Pain, blood pressure, body mass and injuries never reach the output of a coach, in any format.',
      see: ['availability', 'hold', 'left_out'],
    },
    strength: {
      title: 'strength staff: deficits and measures too',
      definition:
        'Everything of a coach, and the measures, deficits and findings that the work is for. Blood pressure and pulse, earlier injuries, findings of rules with history and what medical staff wrote are taken out.',
      caution: 'That a test hurt is left in: whoever loads the athlete must know it.',
    },
    medical: {
      title: 'medical staff: everything',
      definition: 'All rows and cells. It is what is shown where --audience is not given.',
      caution: 'Do not pass such a file on: make one for its reader with --audience.',
    },
  },
  { where: '--audience of every command that shows people', see: ['audience'] },
);

const TERMS = topicsOf('word', {
  audience: {
    title: 'who reads the output',
    definition:
      'coach, strength or medical, with --audience. Columns stay as they are: cells that are not for the reader are empty, rows that are not for the reader are left out. Names are shown only with --names.',
    where: 'the option --audience',
    caution: 'The tables that bilat run writes into out/ are for staff, and whole.',
    also: [
      'privacy',
      'confidential',
      'confidentiality',
      'who sees what',
      'what may a coach see',
      'what does a coach see',
    ],
    see: ['coach', 'strength', 'medical'],
  },
});

/** Who may see what. */
export const AUDIENCE_WORDS = [...AUDIENCES, ...TERMS];
