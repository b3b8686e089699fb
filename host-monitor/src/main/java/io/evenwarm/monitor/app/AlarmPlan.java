package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;

/**
 * By what the monitor judges.
 *
 * @param settings its own limits, beside what agents find
 * @param timeLeft what it assumes where it says how long eggs have
 */
record AlarmPlan(AlarmSettings settings, NewtonTimeLeft.Assumptions timeLeft) {

    static final AlarmPlan DEFAULT =
            new AlarmPlan(AlarmSettings.DEFAULT, NewtonTimeLeft.Assumptions.DEFAULT);
}
