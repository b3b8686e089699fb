package io.evenwarm.agent.testing;

import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading;

/** A probe that gives what the test's hand puts in. */
public final class FakeProbe implements Probe {

    private volatile Sample newest = new Sample.NotYet(0);

    @Override
    public Sample newest() {
        return newest;
    }

    public void celsius(double celsius, long atNanos) {
        newest = new Sample.Measured(celsius, Sample.Unit.CELSIUS, atNanos);
    }

    public void percent(double percent, long atNanos) {
        newest = new Sample.Measured(percent, Sample.Unit.PERCENT_RELATIVE_HUMIDITY, atNanos);
    }

    public void fails(Reading.Doubt why, long atNanos) {
        newest = new Sample.Failed(why, "put in by the test", atNanos);
    }

    public void gives(Sample sample) {
        newest = sample;
    }
}
