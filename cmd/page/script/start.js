// Starts the page.

startSettings();
startFiles();
startFindings();
startMending();
startDrawing();
startSheet();
startLoomForm();
startFit();
startAllDrafts();
startLoom();
startViews();
showFindings();
openRestored();
const licenses = byId("licenses");
licenses.hidden = byId("notices").textContent === "";
licenses.addEventListener("toggle", () => { licenses.querySelector("pre").textContent = byId("notices").textContent; });
runProgram(["lint", "--quiet", "-"], new Map([["-", toBytes("[WIF]\nVersion=1.1\n")]]), "Getting ready").catch((error) => sayProblems([
  "fettle can't start in this browser: " + error.message, "Use a current browser: Chrome or Edge from 103, Firefox from 113, Safari from 16.4."]));
