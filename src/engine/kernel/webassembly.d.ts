/** The little of the platform's WebAssembly that `compiled.ts` uses; absent where code may not be made. */
declare namespace WebAssembly {
  class Memory {
    readonly buffer: ArrayBuffer;
    constructor(size: { initial: number });
  }
  class Module {
    constructor(bytes: Uint8Array<ArrayBuffer>);
  }
  class Instance {
    readonly exports: Record<string, unknown>;
    constructor(module: Module, imports: Record<string, Record<string, Memory>>);
  }
}
