package io.evenwarm.monitor.notice.channel;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.Notices;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.ShortBuffer;
import javax.sound.sampled.AudioSystem;
import org.junit.jupiter.api.Test;

/** The sound has the tone that it should have, and a machine without a sound card says so. */
final class SoundChannelTest {

    private static double[] signal(Tone tone) {
        ShortBuffer samples =
                ByteBuffer.wrap(tone.samples()).order(ByteOrder.LITTLE_ENDIAN).asShortBuffer();
        double[] signal = new double[samples.remaining()];
        for (int i = 0; i < signal.length; i++) {
            signal[i] = samples.get(i) / (double) Short.MAX_VALUE;
        }
        return signal;
    }

    /** Goertzel's algorithm: the amplitude of one frequency in a piece of a signal. */
    private static double amplitude(double[] signal, int from, int to, double hertz) {
        double coefficient = 2 * Math.cos(2 * Math.PI * hertz / Tone.SAMPLES_PER_SECOND);
        double before = 0;
        double last = 0;
        for (int i = from; i < to; i++) {
            double now = signal[i] + coefficient * last - before;
            before = last;
            last = now;
        }
        double power = last * last + before * before - coefficient * last * before;
        return 2 * Math.sqrt(power) / (to - from);
    }

    @Test
    void theUrgentSoundIsTenPulsesOf880HertzWithPausesBetween() {
        Tone tone = Tone.of(Notices.first("e1"));
        double[] signal = signal(tone);
        assertEquals(2500, tone.millis());
        assertEquals(2.5 * Tone.SAMPLES_PER_SECOND, signal.length, 10);
        int pulse = signal.length / 10;
        for (int p = 0; p < 10; p++) {
            // The middle 110 ms of 150: whole periods matter little over so many.
            int from = p * pulse + Tone.SAMPLES_PER_SECOND * 20 / 1000;
            int to = from + Tone.SAMPLES_PER_SECOND * 110 / 1000;
            assertEquals(0.9 * 0.4, amplitude(signal, from, to, 880), 0.01);
            assertEquals(0.9 * 0.25, amplitude(signal, from, to, 1760), 0.01);
            assertEquals(0, amplitude(signal, from, to, 600), 0.02);
            for (int i = p * pulse + Tone.SAMPLES_PER_SECOND * 151 / 1000;
                    i < (p + 1) * pulse;
                    i++) {
                assertEquals(0, signal[i]);
            }
        }
        double largest = 0;
        for (double sample : signal) {
            largest = Math.max(largest, Math.abs(sample));
        }
        assertTrue(largest > 0.5 && largest < 1, "largest " + largest);
    }

    @Test
    void anAllClearSoundsOtherThanAnAlarm() {
        Notice clear = Notices.of("e1", 2, NoticeKind.ALL_CLEAR, Notices.cold("north"));
        assertEquals(330, Tone.of(clear).fundamentalHertz());
        double[] signal = signal(Tone.of(clear));
        assertTrue(Math.abs(signal[0]) < 1e-3 && Math.abs(signal[20]) < 0.05, "no click");
    }

    @Test
    void withoutASoundCardItSaysSoAndIsTriedAgain() {
        try (SoundChannel channel = new SoundChannel("sound")) {
            Delivery delivery = channel.deliver(Notices.first("e1"), Notices.KEEPER);
            if (AudioSystem.getMixerInfo().length == 0) {
                assertTrue(
                        delivery.words().startsWith("no sound card takes it ("), delivery.words());
            } else {
                assertTrue(
                        delivery.words().matches("(sounded for|no sound card|the sound card).*"),
                        delivery.words());
            }
        }
    }
}
