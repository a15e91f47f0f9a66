/** What OpenJPEG's loader finds in the Worker in place of Node's files and paths: it is handed the decoder and asks for none. */
export default {};
