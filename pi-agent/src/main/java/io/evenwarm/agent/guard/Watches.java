package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.health.LearnedRows;
import io.evenwarm.agent.guard.health.ProbeTrouble;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/** All that is watched for in one cabinet, most urgent first. */
final class Watches {

    /** Findings that explain better than the room why full heat does not do. */
    private static final Set<FindingCode> EXPLAIN_COLD =
            Set.of(
                    FindingCode.HEATER_DEAD,
                    FindingCode.HEATER_WEAK,
                    FindingCode.DOOR_OPEN,
                    FindingCode.CUT_OFF_RELAY_STUCK);

    /** And those that explain why it stays warm without heat. */
    private static final Set<FindingCode> EXPLAIN_WARM = Set.of(FindingCode.HEATER_STUCK_ON);

    private final Watch[] watches;
    private final TooCold tooCold;
    private final FanTurns fanTurns = new FanTurns();
    private final HeaterWeak heaterWeak = new HeaterWeak();
    private List<Finding> findings = List.of();

    /** What rows of what was learned about the fan's turns begin with. */
    static final String FAN_ROWS = "fan";

    /** What rows about how long the heater has been weak begin with. */
    private static final String WEAK_ROWS = "heater-weak";

    Watches(CabinetPlan plan, CutOff cutOff, CutOffRelayTest relayTest, StillAir stillAir) {
        tooCold = new TooCold(plan, () -> relayTest.isRunning() || stillAir.isTrying());
        List<Watch> all = new ArrayList<>();
        all.add(new CutOffTripped(plan));
        all.add(new Blind(plan));
        all.add(new HeaterStuckOn(plan));
        all.add(new TooWarm(plan));
        all.add(new HeaterDead(plan));
        all.add(tooCold);
        all.add(new OutputFailing());
        all.add(new AgentFault());
        if (plan.hasFanTachometer()) {
            all.add(FanByTachometer.stopped(plan, fanTurns));
            all.add(FanByTachometer.weak(plan, fanTurns));
        }
        all.add(FanFromLayers.stopped(plan));
        all.add(FanFromLayers.weak(plan));
        all.add(new FanStopped(plan));
        for (int i = 0; i < plan.probes().size(); i++) {
            all.add(new HotAlone(plan, i, cutOff.lone()));
        }
        all.add(new ProbesDisagree(plan));
        all.add(new OneProbeLeft(plan, cutOff));
        for (int i = 0; i < plan.probes().size(); i++) {
            all.add(new ProbeLost(plan.probes().get(i), i));
        }
        all.add(new RoomTooCold(plan, () -> isAnyRaised(EXPLAIN_COLD)));
        all.add(new RoomTooWarm(plan, () -> isAnyRaised(EXPLAIN_WARM)));
        all.add(new CutOffRelayStuck(relayTest));
        all.add(new RelayChatter(plan));
        all.add(new ClockUntrusted());
        all.add(new MainsReturned(plan));
        if (plan.hasDoorSwitch()) {
            all.add(new DoorOpen(plan));
        }
        all.add(new DoorFromAir(plan));
        addLies(plan, all);
        all.add(heaterWeak);
        all.add(new LateTick());
        all.add(new StateNotSaved());
        watches = all.toArray(Watch[]::new);
    }

    private static void addLies(CabinetPlan plan, List<Watch> all) {
        for (int i = 0; i < plan.probes().size(); i++) {
            ProbePlan probe = plan.probes().get(i);
            ProbePlace.Kind kind = probe.place().kind();
            if (!probe.sensor().isThermometer() || kind == ProbePlace.Kind.AMBIENT) {
                continue;
            }
            for (ProbeTrouble trouble : ProbeTrouble.values()) {
                if (trouble != ProbeTrouble.NONE) {
                    all.add(ProbeLies.of(probe, i, trouble));
                }
            }
        }
    }

    /** What holds now, in the order of urgency; the same list as long as nothing in it changed. */
    List<Finding> judge(Circumstances now) {
        fanTurns.update(now.facts());
        boolean isChanged = false;
        for (Watch watch : watches) {
            isChanged |= watch.judge(now);
        }
        if (isChanged) {
            findings = gathered();
        }
        return findings;
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        fanTurns.learned(rows.of(FAN_ROWS));
        heaterWeak.keepPresence(rows.of(WEAK_ROWS));
    }

    /** Whether the tachometer says that the fan stands still. */
    boolean isFanStandingStill() {
        return fanTurns.isKnown() && fanTurns.share() < FanByTachometer.STOPPED_SHARE;
    }

    /** A person moved the limits: the cabinet may now need time to get between them. */
    void limitsMoved() {
        tooCold.expectWarmUp();
    }

    private boolean isAnyRaised(Set<FindingCode> codes) {
        for (int i = 0; i < findings.size(); i++) {
            if (codes.contains(findings.get(i).code())) {
                return true;
            }
        }
        return false;
    }

    private List<Finding> gathered() {
        List<Finding> gathered = new ArrayList<>();
        for (Watch watch : watches) {
            Finding finding = watch.finding();
            // Two watches may know one trouble by different signs: the first of them tells.
            if (finding != null && gathered.stream().noneMatch(finding::isSameTroubleAs)) {
                gathered.add(finding);
            }
        }
        return List.copyOf(gathered);
    }
}
