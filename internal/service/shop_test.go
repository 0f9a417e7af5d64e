package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestAShopIsSetUp(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	setup := pb.NewShopServiceClient(b.conn)
	dag, err := setup.AddPerson(t.Context(), &pb.AddPersonRequest{Origin: b.by("wren"), RequestId: b.id(), Name: "Dag", Role: "apprentice"})
	require.NoError(t, err)
	assert.Equal(t, "dag", dag.Id)
	assert.False(t, dag.Changed)
	dag, err = setup.AddPerson(t.Context(), &pb.AddPersonRequest{Origin: b.by("wren"), RequestId: b.id(), Id: "dag", Role: "lead", Trade: "trim", ChatUser: "U7"})
	require.NoError(t, err)
	assert.True(t, dag.Changed)
	assert.Equal(t, []string{"Dag", "lead", "trim", "U7"}, []string{dag.Name, dag.Role, dag.Trade, dag.ChatUser})

	o := b.by("dag") // a lead by now
	o.Channel = "bay-9"
	link, err := setup.LinkChannel(t.Context(), &pb.LinkChannelRequest{Origin: o, RequestId: b.id(), Job: "tern"})
	require.NoError(t, err)
	assert.Equal(t, []string{"bay-9", "tern", ""}, []string{link.Channel, link.Job, link.Before})
	link, err = setup.LinkChannel(t.Context(), &pb.LinkChannelRequest{Origin: b.by("wren"), RequestId: b.id(), Channel: "bay-9"})
	require.NoError(t, err)
	assert.Equal(t, []string{"bay-9", "", "tern"}, []string{link.Channel, link.Job, link.Before})
	_, err = setup.LinkChannel(t.Context(), &pb.LinkChannelRequest{Origin: b.by("wren"), RequestId: b.id(), Job: "tern"})
	assert.Equal(t, "OUT_OF_RANGE", info(t, err).Reason, "a message to the bot alone is in no channel")

	glass, err := setup.AddSupplier(t.Context(), &pb.AddSupplierRequest{Origin: b.by("wren"), RequestId: b.id(), Name: "Coldharbour Glass"})
	require.NoError(t, err)
	assert.Equal(t, "Coldharbour Glass", glass.Name)

	area, err := setup.SetPanelSize(t.Context(), &pb.SetPanelSizeRequest{Origin: b.by("wren"), RequestId: b.id(), Job: "tern", Panel: "bonnet", AreaM2: num(1.1)})
	require.NoError(t, err)
	assert.InDelta(t, 1.1, area.GetAreaM2(), 0)
	hung, err := setup.SetPanelSize(t.Context(), &pb.SetPanelSizeRequest{
		Origin: b.by("wren"), RequestId: b.id(), Job: "tern", Panel: "door", Side: pb.Side_SIDE_RIGHT,
		HeightMm: num(640.0), LengthMm: num(1100.0), HingeSpacingMm: num(400.0),
	})
	require.NoError(t, err)
	assert.Nil(t, hung.AreaM2)
	assert.Equal(t, pb.Edge_EDGE_FRONT, hung.HingeEdge)

	// What reads names and sizes has them.
	names, err := b.names.GetVocabulary(t.Context(), &pb.GetVocabularyRequest{})
	require.NoError(t, err)
	assert.Equal(t, "dag", names.People[len(names.People)-1].Id)
	assert.Contains(t, names.Suppliers, "Coldharbour Glass")
	fit, err := pb.NewFitServiceClient(b.conn).SolveFit(t.Context(), &pb.SolveFitRequest{Origin: b.by("idris"), Job: "tern", Panel: "door", Side: pb.Side_SIDE_RIGHT})
	require.NoError(t, err)
	assert.InDelta(t, 640, fit.HeightMm, 0)
	assert.InDelta(t, 1100, fit.LengthMm, 0)

	// They are names, not records.
	_, err = b.undo("wren", hung.Receipt.Entry)
	assert.Equal(t, "NOTHING_TO_CHANGE", info(t, err).Reason)
}

func TestATrialSetupLeavesNoTrace(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	before, err := b.svc.Snapshot()
	require.NoError(t, err)
	setup := pb.NewShopServiceClient(b.conn)
	_, err = setup.AddPerson(t.Context(), &pb.AddPersonRequest{Origin: b.by("wren"), ValidateOnly: true, Name: "Dag", Role: "lead"})
	require.NoError(t, err)
	_, err = setup.LinkChannel(t.Context(), &pb.LinkChannelRequest{Origin: b.by("wren"), ValidateOnly: true, Channel: "bay-2", Job: "tern"})
	require.NoError(t, err)
	_, err = setup.AddSupplier(t.Context(), &pb.AddSupplierRequest{Origin: b.by("wren"), ValidateOnly: true, Name: "Coldharbour Glass"})
	require.NoError(t, err)
	_, err = setup.SetPanelSize(t.Context(), &pb.SetPanelSizeRequest{Origin: b.by("wren"), ValidateOnly: true, Panel: "bonnet", AreaM2: num(1.0)})
	require.NoError(t, err)
	after, err := b.svc.Snapshot()
	require.NoError(t, err)
	assert.Equal(t, before, after)
}
