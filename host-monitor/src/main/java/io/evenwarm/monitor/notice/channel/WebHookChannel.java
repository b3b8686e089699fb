package io.evenwarm.monitor.notice.channel;

import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.PlainLine;
import io.evenwarm.monitor.notice.Recipient;
import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import javax.net.ssl.SSLException;

/**
 * Posts notices as JSON over HTTPS. Follows no redirect: what is sent is for one receiver. Of the
 * answer only its status is read.
 */
public final class WebHookChannel implements Channel {

    /** What only a person can mend. */
    private static final Duration SETTINGS_PAUSE = Duration.ofMinutes(5);

    /** A receiver that asks for more is asked again after this. */
    private static final Duration RETRY_AFTER_MAX = Duration.ofHours(1);

    private static final int WORDS_MAX = 200;

    private static final int AT_ONCE = 4;

    private final String name;
    private final WebHookTarget target;
    private final WallClock clock;
    private final HttpClient client;

    public WebHookChannel(String name, WebHookTarget target, WallClock clock) {
        this.name = name;
        this.target = target;
        this.clock = clock;
        client =
                HttpClient.newBuilder()
                        .followRedirects(HttpClient.Redirect.NEVER)
                        .connectTimeout(target.limit())
                        .sslContext(target.roots().context())
                        // One connection that hung must not hold the next delivery up.
                        .version(HttpClient.Version.HTTP_1_1)
                        .build();
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public int atOnce() {
        return AT_ONCE;
    }

    @Override
    public Delivery deliver(Notice notice, Recipient recipient) {
        CompletableFuture<HttpResponse<InputStream>> answer =
                client.sendAsync(
                        request(notice, recipient), HttpResponse.BodyHandlers.ofInputStream());
        try {
            HttpResponse<InputStream> response =
                    answer.get(target.limit().toMillis(), TimeUnit.MILLISECONDS);
            response.body().close();
            return judge(response);
        } catch (TimeoutException e) {
            answer.cancel(true);
            return new Delivery.TryAgain(
                    "no answer within " + target.limit().toSeconds() + " s", Duration.ZERO);
        } catch (ExecutionException e) {
            return failed(e.getCause() == null ? e : e.getCause());
        } catch (IOException e) {
            return failed(e);
        } catch (InterruptedException e) {
            answer.cancel(true);
            Thread.currentThread().interrupt();
            return new Delivery.TryAgain("interrupted", Duration.ZERO);
        }
    }

    private HttpRequest request(Notice notice, Recipient recipient) {
        byte[] body = target.template().filled(notice, recipient);
        // The same for the same notice and person, so that a receiver can tell a repetition.
        String id = "msg_" + notice.id() + "_" + recipient.tag();
        Instant sent = clock.now();
        HttpRequest.Builder request =
                HttpRequest.newBuilder(WebHookTarget.requireAddress(target.address().reveal()))
                        .timeout(target.limit())
                        .header("Content-Type", "application/json")
                        .header("User-Agent", "evenwarm")
                        .header("webhook-id", id)
                        .header("webhook-timestamp", Long.toString(sent.getEpochSecond()));
        target.key().ifPresent(key -> request.header("webhook-signature", key.of(id, sent, body)));
        return request.POST(HttpRequest.BodyPublishers.ofByteArray(body)).build();
    }

    /** RFC 9110 s.15, class by class. */
    private static Delivery judge(HttpResponse<InputStream> response) {
        int status = response.statusCode();
        if (status >= 200 && status < 300) {
            return new Delivery.Delivered("answered " + status);
        }
        if (status >= 300 && status < 400) {
            return new Delivery.Refused(
                    "answered "
                            + status
                            + ", a redirect: those are not followed; set the final address");
        }
        Duration asked = retryAfter(response);
        return switch (status) {
            // 408 Request Timeout, 425 Too Early (RFC 8470 s.5.2), 429 Too Many Requests (RFC 6585
            // s.4).
            case 408, 425, 429 -> new Delivery.TryAgain("answered " + status, asked);
            // Credentials, which a person changes.
            case 401, 403, 407 ->
                    new Delivery.TryAgain(
                            "answered " + status + ": are address and key right?",
                            longer(asked, SETTINGS_PAUSE));
            default ->
                    status < 500
                            ? new Delivery.Refused("answered " + status)
                            : new Delivery.TryAgain("answered " + status, asked);
        };
    }

    private static Duration longer(Duration one, Duration other) {
        return one.compareTo(other) > 0 ? one : other;
    }

    /** RFC 9110 s.10.2.3, its form in seconds; a date would trust two clocks. */
    private static Duration retryAfter(HttpResponse<InputStream> response) {
        return response.headers()
                .firstValue("Retry-After")
                .filter(text -> text.matches("\\d{1,9}"))
                .map(text -> Duration.ofSeconds(Long.parseLong(text)))
                .map(asked -> asked.compareTo(RETRY_AFTER_MAX) > 0 ? RETRY_AFTER_MAX : asked)
                .orElse(Duration.ZERO);
    }

    private static Delivery failed(Throwable failure) {
        String words =
                PlainLine.of(
                        failure.getMessage() == null || failure.getMessage().isBlank()
                                ? failure.getClass().getSimpleName()
                                : failure.getMessage(),
                        WORDS_MAX);
        return failure instanceof SSLException
                ? new Delivery.TryAgain(
                        "no private way to the receiver (" + words + ")", SETTINGS_PAUSE)
                : new Delivery.TryAgain(
                        "the receiver can't be reached (" + words + ")", Duration.ZERO);
    }

    @Override
    public void close() {}
}
