package io.evenwarm.agent.plant;

import java.util.List;

/** What the faults in force make of a cabinet's circuits, fan, door and room. */
record Conditions(
        boolean mainsOn,
        boolean heaterWelded,
        double heaterShare,
        boolean cutOffStuck,
        double flowShare,
        boolean doorOpen,
        double ambientStepKelvin) {

    static final Conditions SOUND = new Conditions(true, false, 1, false, 1, false, 0);

    static Conditions of(List<PlantFault> faults) {
        boolean mainsOn = true;
        boolean heaterWelded = false;
        double heaterShare = 1;
        boolean cutOffStuck = false;
        double flowShare = 1;
        boolean doorOpen = false;
        double ambientStepKelvin = 0;
        for (PlantFault fault : faults) {
            if (fault instanceof PlantFault.MainsCut) {
                mainsOn = false;
            } else if (fault instanceof PlantFault.HeaterRelayWelded) {
                heaterWelded = true;
            } else if (fault instanceof PlantFault.HeaterOpen) {
                heaterShare = 0;
            } else if (fault instanceof PlantFault.HeaterWeak weak) {
                heaterShare = Math.min(heaterShare, weak.powerShare());
            } else if (fault instanceof PlantFault.CutOffRelayStuck) {
                cutOffStuck = true;
            } else if (fault instanceof PlantFault.FanStopped) {
                flowShare = 0;
            } else if (fault instanceof PlantFault.FanSlow slow) {
                flowShare = Math.min(flowShare, slow.flowShare());
            } else if (fault instanceof PlantFault.DoorOpen) {
                doorOpen = true;
            } else if (fault instanceof PlantFault.AmbientStep step) {
                ambientStepKelvin = step.kelvin();
            }
            // A probe's and the bus's faults are theirs to take.
        }
        return new Conditions(
                mainsOn,
                heaterWelded,
                heaterShare,
                cutOffStuck,
                flowShare,
                doorOpen,
                ambientStepKelvin);
    }
}
