import { type ReactNode, useId } from 'react';
import { Icon, type IconName } from './icon.tsx';

export interface PanelProps {
  title: string;
  /** Beside the title: a figure, a button. */
  aside?: ReactNode;
  /** Folds away; `open` is how it starts. */
  fold?: 'open' | 'closed';
  children: ReactNode;
}

/** A titled part of a desk. */
export function Panel({ title, aside, fold, children }: PanelProps) {
  const id = useId();
  if (fold)
    return (
      <details className="panel panel-fold" open={fold === 'open'}>
        <summary className="panel-head">
          <Icon name="right" />
          <h3 className="panel-title">{title}</h3>
          {aside && <div className="panel-aside">{aside}</div>}
        </summary>
        <div className="panel-body">{children}</div>
      </details>
    );
  return (
    <section className="panel" aria-labelledby={id}>
      <header className="panel-head">
        <h3 className="panel-title" id={id}>
          {title}
        </h3>
        {aside && <div className="panel-aside">{aside}</div>}
      </header>
      <div className="panel-body">{children}</div>
    </section>
  );
}

export interface NoticeProps {
  /** `note` says something; `alert` asks for a decision or tells of a problem. */
  tone?: 'note' | 'alert';
  icon?: IconName;
  children: ReactNode;
  /** Buttons at the end of the line. */
  actions?: ReactNode;
}

/** A line across the desk, announced when it appears. */
export function Notice({ tone = 'note', icon, children, actions }: NoticeProps) {
  return (
    <div className={`notice notice-${tone}`} role="status">
      {(icon ?? (tone === 'alert' ? 'alert' : null)) && <Icon name={icon ?? 'alert'} />}
      <div className="notice-text">{children}</div>
      {actions && <div className="notice-actions">{actions}</div>}
    </div>
  );
}

/** Fields side by side, as many as fit. */
export function Fields({ children }: { children: ReactNode }) {
  return <div className="fields">{children}</div>;
}
