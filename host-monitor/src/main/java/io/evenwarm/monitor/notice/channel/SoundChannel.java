package io.evenwarm.monitor.notice.channel;

import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.PlainLine;
import io.evenwarm.monitor.notice.Recipient;
import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.LineUnavailableException;
import javax.sound.sampled.SourceDataLine;

/** Sounds at this machine, made of nothing but arithmetic: there is no file that could be gone. */
public final class SoundChannel implements Channel {

    private static final AudioFormat FORMAT =
            new AudioFormat(Tone.SAMPLES_PER_SECOND, 16, 1, true, false);

    /** Beyond the sound's own length; a sound card that hangs is given up then. */
    private static final int MARGIN_MILLIS = 5000;

    private static final int WORDS_MAX = 200;

    private final String name;
    private final ExecutorService player =
            Executors.newSingleThreadExecutor(
                    body -> {
                        Thread daemon = new Thread(body, "notice sound");
                        daemon.setDaemon(true);
                        return daemon;
                    });

    public SoundChannel(String name) {
        this.name = name;
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public Delivery deliver(Notice notice, Recipient recipient) {
        Tone tone = Tone.of(notice);
        CompletableFuture<Void> playing =
                CompletableFuture.runAsync(() -> play(tone.samples()), player);
        try {
            playing.get(tone.millis() + MARGIN_MILLIS, TimeUnit.MILLISECONDS);
            return new Delivery.Delivered("sounded for " + tone.millis() + " ms");
        } catch (ExecutionException e) {
            Throwable cause = e.getCause() == null ? e : e.getCause();
            return new Delivery.TryAgain(
                    "no sound card takes it ("
                            + PlainLine.of(String.valueOf(cause.getMessage()), WORDS_MAX)
                            + ")",
                    Duration.ZERO);
        } catch (TimeoutException e) {
            return new Delivery.TryAgain("the sound card hangs", Duration.ZERO);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return new Delivery.TryAgain("interrupted", Duration.ZERO);
        }
    }

    private static void play(byte[] samples) {
        try (SourceDataLine line = AudioSystem.getSourceDataLine(FORMAT)) {
            line.open(FORMAT);
            line.start();
            line.write(samples, 0, samples.length);
            line.drain();
        } catch (LineUnavailableException e) {
            throw new CompletionException(e.getMessage(), e);
        }
    }

    /** A sound has no place for a link. */
    @Override
    public boolean isForOne() {
        return false;
    }

    @Override
    public void close() {
        player.shutdownNow();
    }
}
