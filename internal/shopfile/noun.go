package shopfile

import (
	"slices"
	"strings"

	"bayword/internal/shop"
)

// noun is one kind of thing that a shop file lists, and a folder has a file of.
type noun struct {
	name string
	// columns are the keys of one: [] ends that of a list, a dot goes into a nested
	// mapping.
	columns string
	read    func(*file, object)
	head    bool // it comes first, whoever said it: what follows refers to it
}

// nouns in the order they are read and written: what others refer to first.
func nouns() []noun {
	stagesOf := func(key string) string { return key + "." + strings.Join(shop.Stages(), " "+key+".") }
	return []noun{
		{"shop", "name currency labour_rate_per_hour side_words time_zone days_off[]", (*file).shop, true},
		{"people", "id name role trade chat hours_per_day days_off[]", (*file).person, true},
		{
			"jobs", "id vehicle.year vehicle.make vehicle.model vehicle.body vehicle.drive also_called[] customer stage bay " +
				stagesOf("estimate_hours") + " " + stagesOf("logged_hours") + " brief[]", (*file).job, true,
		},
		{"channels", "id job chat", (*file).channel, true},
		{"suppliers", "name", (*file).supplier, true},
		{
			"materials", "id name also_called[] unit pack on_hand reorder_at mix with[] solids_pct dft_um_per_coat voc_g_per_l flash_min " +
				"recoat_from_h recoat_until_h sand_after_h pot_life_min", (*file).material, true,
		},
		{"panel_area_m2", "job panel area_m2", (*file).area, true},
		{"gap_references", "job panel side edge target_mm tolerance_mm flush_tolerance_mm source", (*file).gap, false},
		{"door_geometry", "job panel side height_mm length_mm hinge_spacing_mm hinge_edge", (*file).door, true},
		{"torque_references", "job fastener thread torque_nm stages[] source safety_critical", (*file).torque, false},
		{"tasks", "id job title stage hours[] after[] state who needs_part now", (*file).task, false},
		{"finds", "id job panel side end kind width_mm height_mm diameter_mm depth_mm count note state now", (*file).find, false},
		{"parts", "id job part side quantity supplier origin price ordered due state condition arrived trial_fitted now", (*file).part, false},
		{"coats", "job material panels[] coats at temperature_c sent[]", (*file).coat, false},
		{"extras", "id job text hours parts state materials_cost rate finds[] stage hours_from now", (*file).extra, false},
		{"snags", "id job text state now", (*file).snag, false},
		{"brief_lines", "job line text", (*file).briefLine, false},
		{"brief_met", "job line text", (*file).briefMet, false},
		{"task_starts", "task job who", (*file).taskStart, false},
		{"task_ends", "task job who", (*file).taskEnd, false},
		{"due_changes", "part job due why", (*file).dueChange, false},
		{"part_arrivals", "part job quantity condition", (*file).arrival, false},
		{"part_fittings", "part job trial note", (*file).fitting, false},
		{"part_returns", "part job why", (*file).sentBack, false},
		{"find_closings", "find job", (*file).findClosing, false},
		{"snag_closings", "snag job", (*file).snagClosing, false},
		{"extra_decisions", "extra job agreed", (*file).decision, false},
		{"stock_moves", "kind material amount job batch expires why", (*file).move, false},
		{"hours", "job people[] hours work day", (*file).hours, false},
		{"torque_signoffs", "job fastener torque_nm count", (*file).signOff, false},
		{"gap_readings", "job panel side end edge gap_mm[] flush_mm[]", (*file).reading, false},
		{"notes", "job text panel side", (*file).note, false},
		{"reminders", "at text job channel who sent", (*file).reminder, false},
		{"notices_sent", "part person day", (*file).noticeSent, false},
	}
}

// isRecord tells whether the noun's things can have photographs. A size is none.
func (n noun) isRecord() bool { return !n.head || n.name == "jobs" || n.name == "materials" }

// header gives all columns: the noun's own, and those of who said it.
func (n noun) header() []string {
	all := strings.Fields(n.columns)
	if n.name == "notices_sent" {
		return all // nobody says that one was
	}
	if !n.head {
		all = append(all, "entry")
	}
	all = append(all, "by", "said_at")
	if n.isRecord() {
		all = append(all, "photos[]")
	}
	return all
}

// keys gives the keys that one of the noun may have.
func (n noun) keys() []string {
	var keys []string
	for _, column := range n.header() {
		key, _, _ := strings.Cut(strings.TrimSuffix(column, "[]"), ".")
		if !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	if n.name == "jobs" {
		keys = append(keys, "panel_area_m2")
	}
	return keys
}

func nounNames() []string {
	var names []string
	for _, n := range nouns() {
		names = append(names, n.name)
	}
	return names
}
