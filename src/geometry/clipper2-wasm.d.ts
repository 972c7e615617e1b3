// The package ships no types at the address it is loaded from; clipper.ts narrows what comes out.
declare module 'clipper2-wasm/dist/es/clipper2z.js' {
  const start: (options: { readonly wasmBinary: Uint8Array }) => Promise<unknown>;
  export default start;
}
