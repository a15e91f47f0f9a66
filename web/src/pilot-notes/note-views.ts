/** What most briefs do not need: drawn and listed where a pilot said something beside ice. */
export { NoteList } from './note-list.tsx';
export { NoteMarks } from './note-marks.tsx';
