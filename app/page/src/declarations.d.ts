// Examples are bundled as the text they are; three.js is used through the report's viewer alone.
declare module '*.json' {
  const text: string;
  export default text;
}
declare module 'three';
declare module 'three/addons/*';
