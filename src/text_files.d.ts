/** Files that go into the program as text; the build and the test runner both read them so. */
declare module '*.yaml' {
  const text: string;
  export default text;
}
declare module '*.csv' {
  const text: string;
  export default text;
}
declare module '*.md' {
  const text: string;
  export default text;
}
