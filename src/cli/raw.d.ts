/** A file's text, put into the bundle. */
declare module '*?raw' {
  const text: string;
  export default text;
}
