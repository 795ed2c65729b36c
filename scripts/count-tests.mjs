// Prints "PASSED FAILED" from Vitest's JSON report and its exit status. A file that does not load, a run
// that breaks off and a run without tests each count as a failure.
import { readFileSync } from "node:fs";

const [file, status] = process.argv.slice(2);

function counts() {
  const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(file, "utf8"));
  const broken = testResults.filter(
    ({ status, assertionResults }) =>
      status === "failed" && assertionResults.every((test) => test.status !== "failed"),
  );
  return { passed: numPassedTests, failed: numFailedTests + broken.length };
}

function safely() {
  try {
    return counts();
  } catch {
    return { passed: 0, failed: 0 };
  }
}

const { passed, failed } = safely();
const unexplained = failed === 0 && (status !== "0" || passed === 0) ? 1 : 0;
console.log(passed, failed + unexplained);
