package hear

// kinds are all kinds of message this package hears. A kind that the service
// does not take is not heard. To add one: its file beside this, and its line here.
var kinds = []kind{
	lookUpTorque, computeTorque, recordTorque, setTorque,
	lookUpGap, recordGap, setGap,
	recordFind, listFinds, closeFind,
	getStock, listLowStock, recordUse, recordDelivery, recordCount, recordWaste, addMaterial,
	logHours, reportHours,
	getStatus, listJobs, createJob,
	adjustWrench, sizeCable, roadSpeed, convert, checkClimate, solveFit,
	planMix, checkEnough, recordCoat, listWindows,
	addTask, startTask, finishTask, listNext, listHolds, forecast,
	recordOrder, recordArrival, fitPart, returnPart, changeDue, listParts,
	addBrief, meetBrief, getBrief, addSnag, closeSnag, listSnags,
	proposeExtra, decideExtra, listExtras, reportMoney,
	adviseRepair, remind, listReminders, buildRecord,
	addPerson, linkChannel, addSupplier, setPanelSize,
	addNote, history, undo, amend, explainAnswer, help,
}

func kindNamed(name string) *kind {
	for i := range kinds {
		if kinds[i].name == name {
			return &kinds[i]
		}
	}
	return &kind{name: name}
}

func isWrite(name string) bool { return kindNamed(name).write }

// IsWrite reports whether a kind leaves a record.
func IsWrite(kind string) bool { return isWrite(kind) }

// Examples returns the example sentences of every kind.
func Examples() map[string][]string {
	out := map[string][]string{}
	for _, k := range kinds {
		out[k.name] = k.examples
	}
	return out
}
