package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.notice.AnswerLinks;
import io.evenwarm.monitor.notice.channel.KillablePost;
import io.evenwarm.monitor.web.TrustingClient;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Somebody who reads each mail and acknowledges half of them by the link in it. */
final class FloodReader implements AutoCloseable {

    private static final Pattern LINK = Pattern.compile("https://\\S+/answer/[A-Za-z0-9_-]{43}");
    private static final int OK = 200;

    private final KillablePost post;
    private final FloodRecord record;
    private final SplittableRandom random;
    private final HttpClient client = TrustingClient.make();
    private final Thread thread = new Thread(this::read, "reader");
    private volatile boolean isStopping;

    FloodReader(KillablePost post, FloodRecord record, long seed) {
        this.post = post;
        this.record = record;
        random = new SplittableRandom(~seed);
        thread.setDaemon(true);
        thread.start();
    }

    private void read() {
        int read = 0;
        try {
            while (!isStopping) {
                List<KillablePost.Mail> mails = post.mails();
                for (; read < mails.size(); read++) {
                    Matcher link = LINK.matcher(mails.get(read).body());
                    if (random.nextBoolean() && link.find()) {
                        press(mails.get(read), link.group());
                    }
                }
                TimeUnit.MILLISECONDS.sleep(100);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void press(KillablePost.Mail mail, String link) throws InterruptedException {
        String origin = link.substring(0, link.indexOf(AnswerLinks.PATH));
        String token = "token=" + link.substring(link.lastIndexOf('/') + 1);
        Instant asked = SystemClock.wall().now();
        try {
            HttpResponse<String> answer =
                    client.send(
                            HttpRequest.newBuilder(URI.create(origin + "/answer"))
                                    .timeout(Duration.ofSeconds(10))
                                    .header("Origin", origin)
                                    .header("Content-Type", "application/x-www-form-urlencoded")
                                    .POST(BodyPublishers.ofString(token))
                                    .build(),
                            BodyHandlers.ofString());
            if (answer.statusCode() == OK) {
                record.acknowledged(mail.id(), asked, SystemClock.wall().now());
            }
        } catch (IOException down) {
            // The monitor was killed: what has no answer does not count as acknowledged.
            return;
        }
    }

    /** Presses nothing more. */
    void stop() {
        isStopping = true;
        Waiting.until(20, () -> !thread.isAlive(), () -> "the reader goes on");
    }

    @Override
    public void close() {
        stop();
    }
}
