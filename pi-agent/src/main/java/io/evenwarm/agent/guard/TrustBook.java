package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.cabinet.ProbeTrust;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import java.util.ArrayList;
import java.util.List;

/**
 * Which probes guard has set aside, and why. From the next tick on, a probe that is set aside does
 * not steer, does not count among the warmest or coldest, and alone trips nothing; its readings
 * stay there to be looked at.
 *
 * <p>Each cause stands under the code of its finding and is taken back by whoever set it. A probe
 * is believed again when no cause is left.
 *
 * <p><b>The last one stays.</b> No cause sets aside the last believed air probe that gives good
 * readings; {@link #setAside} then says no. When that probe is lost later, those set aside do not
 * come back for it: a cabinet that could only be heated by a probe known to lie is blind.
 */
final class TrustBook {

    private final boolean[] isAir;
    private final List<List<FindingCode>> causes = new ArrayList<>();
    private ProbeTrust trust;

    TrustBook(CabinetPlan plan) {
        List<ProbePlan> probes = plan.probes();
        isAir = new boolean[probes.size()];
        for (int i = 0; i < isAir.length; i++) {
            ProbePlan probe = probes.get(i);
            isAir[i] = probe.sensor().isThermometer() && probe.place().kind().isAir();
            causes.add(new ArrayList<>());
        }
        trust = ProbeTrust.all(isAir.length);
    }

    /** In force from the next tick's observation on. */
    ProbeTrust trust() {
        return trust;
    }

    boolean isTrusted(int probe) {
        return trust.isTrusted(probe);
    }

    /** Whether this cause stands against the probe. */
    boolean isSetAside(int probe, FindingCode cause) {
        return causes.get(probe).contains(cause);
    }

    /** Why the probe is set aside; empty when it is not. */
    List<FindingCode> causes(int probe) {
        return List.copyOf(causes.get(probe));
    }

    /**
     * Sets a probe aside; nothing changes when it is for this cause already.
     *
     * @param state this tick's state
     * @return whether it is set aside now; false when it is the last believed good air probe
     */
    boolean setAside(int probe, FindingCode cause, CabinetState state) {
        if (isSetAside(probe, cause)) {
            return true;
        }
        if (trust.isTrusted(probe) && isLast(probe, state)) {
            return false;
        }
        causes.get(probe).add(cause);
        trust = trust.with(probe, false);
        return true;
    }

    /** Takes a cause back; nothing changes when it does not stand. */
    void restore(int probe, FindingCode cause) {
        // Asked every second of every probe by every watch: a believed one has nothing to search.
        if (trust.isTrusted(probe)) {
            return;
        }
        if (causes.get(probe).remove(cause) && causes.get(probe).isEmpty()) {
            trust = trust.with(probe, true);
        }
    }

    private boolean isLast(int probe, CabinetState state) {
        if (!isAir[probe]) {
            return false;
        }
        for (int i = 0; i < isAir.length; i++) {
            if (i != probe && isAir[i] && trust.isTrusted(i) && state.isGood(i)) {
                return false;
            }
        }
        return true;
    }
}
