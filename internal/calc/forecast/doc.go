// Package forecast answers «when will it be done, and how sure is that»: a network
// of tasks with three estimates each becomes hours to come and days until the
// finish, as what half and four in five of simulated cases keep to. It is pure and
// may import nothing of the module.
//
// # Models
//
//	PERT          mean (a + 4m + b)/6, variance ((b − a)/6)²
//	critical path early start = latest early end before it; late end = earliest late start after it
//	earned value  CPI = EV/AC, SPI = EV/PV, EAC = BAC/CPI, ETC = EAC − AC, VAC = BAC − EAC
//	overrun       ln(actual/expected) normal, its mean normal: the conjugate update with known variance
//	simulation    triangular hours, times the shop's overrun, on people who work one task at a time
//
// PERT is Malcolm, Roseboom, Clark and Fazar, Operations Research 7(5):646, 1959;
// the critical path Kelley and Walker, 1959; earned value ANSI/EIA-748; the update
// Gelman and others, Bayesian Data Analysis, 3rd ed., section 2.5; the triangular
// distribution Kotz and van Dorp, Beyond Beta, 2004, chapter 1. Chapters and
// sections are from memory; the worked examples of the tests were read where their
// table says so.
//
// # Why triangular
//
// Its quantile is a closed form, so one random number makes one duration, the
// distribution of a single task can be checked exactly, and what is left of a task
// in hand is drawn from its own upper tail. Its mean (a + m + b)/3 is nearer to the
// far end than that of PERT, and its shoulders are heavier: people guess their
// ends too close.
//
// # People
//
// Tasks are placed as in the parallel scheme (Kelley, 1963; Kolisch, European
// Journal of Operational Research 90(2):320, 1996; from memory): whoever is free
// takes, of what can begin first, the task with the earliest late start. Nobody
// waits for a better task. With people to wait for, less work can end later
// (Graham, SIAM Journal on Applied Mathematics 17(2):416, 1969, from memory); with
// a person for each task it cannot.
package forecast
